"""Addresses of the office, and of the page behind a label's QR. Wiring only."""

from django.urls import path, re_path

from pickups.desk.api import contacts, devices, labels, office, signing

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
    path("office/labels", labels.find, name="find-label"),
    path("office/labels/<str:code>", labels.label, name="label"),
    path("office/photos/<uuid:fact>/<int:number>", labels.photo, name="photo"),
    path("office/<path:rest>", office.nothing, name="nothing"),
    path("favicon.ico", labels.icon, name="icon"),
    # What a QR opens; the host comes from PUBLIC_BASE_URL, so this path is for ever.
    re_path(r"^L/(?P<rest>.*)$", labels.behind_the_qr, name="property"),
]
