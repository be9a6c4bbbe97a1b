"""Addresses of the customer's pages, and of the mailed link that opens them. Wiring only."""

from django.urls import path, re_path

from pickups.portal import api

urlpatterns = [
    # Whatever stands behind it, slashes too, is answered alike.
    re_path(r"^c/(?P<token>.*)$", api.link, name="customer-link"),
    path("casings/", api.mine, name="casings"),
    path("casings/sign-out", api.sign_out, name="casings-sign-out"),
    path("casings/language", api.speak, name="casings-language"),
    path("casings/<uuid:order>", api.story, name="casing"),
    path("casings/<uuid:order>/photos/<int:number>", api.photo, name="casing-photo"),
    path("casings/<path:rest>", api.nothing, name="casings-nothing"),
]
