"""Addresses of the office, and of the page behind a label's QR. Wiring only."""

from django.urls import path, re_path

from pickups.desk.api import (
    contacts,
    devices,
    labels,
    office,
    rolls,
    sheet,
    sheet_steps,
    sheets,
    signing,
)

urlpatterns = [
    path("", signing.home, name="home"),
    path("office/sign-in", signing.sign_in, name="sign-in"),
    path("office/sign-out", signing.sign_out, name="sign-out"),
    path("office/language", signing.speak, name="speak"),
    path("office/", office.first, name="office"),
    path("office/questions/<int:question>/withdraw", office.withdraw, name="withdraw"),
    path("office/questions/<int:question>/settle", office.settle, name="settle"),
    path("office/devices", devices.devices, name="devices"),
    path("office/devices/enrol", devices.enrol, name="enrol"),
    path("office/devices/code", devices.enrolment, name="enrolment"),
    path("office/devices/<uuid:uid>/close", devices.close, name="close-device"),
    path("office/devices/<uuid:uid>/revoke", devices.revoke, name="revoke-device"),
    path("office/contacts", contacts.contacts, name="contacts"),
    path("office/contacts/<uuid:uid>/link", contacts.show_link, name="show-link"),
    path("office/contacts/<uuid:uid>/revoke", contacts.revoke_links, name="revoke-links"),
    path("office/rolls/", rolls.rolls, name="rolls"),
    path("office/rolls/print", rolls.print_roll, name="print-roll"),
    path("office/rolls/<int:roll>/<str:stock>.pdf", rolls.roll_pdf, name="roll-pdf"),
    path("office/sheets/", sheets.sheets, name="sheets"),
    path("office/sheets/new", sheets.draw_up, name="draw-up"),
    path("office/sheets/<uuid:uid>/", sheet.sheet, name="sheet"),
    path("office/sheets/<uuid:uid>/head", sheet_steps.amend, name="sheet-head"),
    path("office/sheets/<uuid:uid>/stops", sheet_steps.add_stop, name="add-stop"),
    path("office/sheets/<uuid:uid>/stops/<uuid:stop>", sheet_steps.set_stop, name="set-stop"),
    path("office/sheets/<uuid:uid>/move/<uuid:stop>", sheet_steps.move_stop, name="move-stop"),
    path(
        "office/sheets/<uuid:uid>/remove/<uuid:stop>", sheet_steps.remove_stop, name="remove-stop"
    ),
    path("office/sheets/<uuid:uid>/put", sheet_steps.put, name="put"),
    path("office/sheets/<uuid:uid>/take-off", sheet_steps.take_off, name="take-off"),
    path("office/sheets/<uuid:uid>/hand", sheet_steps.hand, name="hand"),
    path("office/sheets/<uuid:uid>/take-back", sheet_steps.take_back, name="take-back"),
    path("office/sheets/<uuid:uid>/back", sheet_steps.come_back, name="come-back"),
    path("office/sheets/<uuid:uid>/not-back", sheet_steps.not_back, name="not-back"),
    path("office/sheets/<uuid:uid>/undo", sheet_steps.undo, name="undo"),
    path("office/sheets/<uuid:uid>/throw-away", sheet_steps.throw_away, name="throw-away"),
    path("office/rack/", sheets.rack, name="rack"),
    path("office/labels", labels.find, name="find-label"),
    path("office/labels/<str:code>", labels.label, name="label"),
    path("office/photos/<uuid:fact>/<int:number>", labels.photo, name="photo"),
    path("office/signatures/<uuid:visit>", labels.signature, name="signature"),
    path("office/<path:rest>", office.nothing, name="nothing"),
    path("favicon.ico", labels.icon, name="icon"),
    # What a QR opens; the host comes from PUBLIC_BASE_URL, so this path is for ever.
    re_path(r"^L/(?P<rest>.*)$", labels.behind_the_qr, name="property"),
]
