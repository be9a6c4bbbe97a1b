"""Addresses of the customer's pages, and of the links that open them. Wiring only."""

from django.urls import path, re_path

from pickups.portal.api import pages, receipts, stop_use

urlpatterns = [
    # Whatever stands behind it, slashes too, is answered alike.
    re_path(r"^c/(?P<token>.*)$", pages.link, name="customer-link"),
    path("casings/", pages.mine, name="casings"),
    path("casings/sign-out", pages.sign_out, name="casings-sign-out"),
    path("casings/language", pages.speak, name="casings-language"),
    path("casings/<uuid:order>", pages.story, name="casing"),
    path("casings/<uuid:order>/photos/<int:number>", pages.photo, name="casing-photo"),
    path("casings/receipts/<uuid:visit>", receipts.mine, name="casings-receipt"),
    path("casings/receipts/<uuid:visit>.pdf", receipts.my_paper, name="casings-receipt-pdf"),
    path(
        "casings/receipts/<uuid:visit>/photos/<int:number>",
        receipts.my_photo,
        name="casings-receipt-photo",
    ),
    path(
        "casings/receipts/<uuid:visit>/otherwise", receipts.my_otherwise, name="casings-otherwise"
    ),
    path("casings/stop-use/<uuid:uid>", stop_use.stop_use, name="casings-stop-use"),
    path("casings/<path:rest>", pages.nothing, name="casings-nothing"),
    # What the square on a driver's screen opens; capitals keep a QR small.
    re_path(r"^R/(?P<key>.*)$", receipts.link, name="receipt-link"),
    path("receipt/", receipts.receipt, name="receipt"),
    path("receipt/receipt.pdf", receipts.paper, name="receipt-pdf"),
    path("receipt/otherwise", receipts.say_otherwise, name="receipt-otherwise"),
    path("receipt/language", receipts.speak, name="receipt-language"),
    path("receipt/leave", receipts.leave, name="receipt-leave"),
    path("receipt/<path:rest>", receipts.nothing, name="receipt-nothing"),
]
