"""Addresses of the plant's pages. Wiring only."""

from django.urls import path

from plant.floor.api import day, place

urlpatterns = [
    path("plant/", day.day, name="floor"),
    path("plant/choose", place.choose, name="choose-plant"),
    path("plant/<path:rest>", place.nothing, name="floor-nothing"),
]
