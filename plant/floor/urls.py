"""Addresses of the plant's pages. Wiring only."""

from django.urls import path

from plant.floor.api import day, limits, place, route

urlpatterns = [
    path("plant/", day.day, name="floor"),
    path("plant/choose", place.choose, name="choose-plant"),
    path("plant/limits", limits.limits, name="repair-limits"),
    path("plant/limits/enter", limits.enter, name="enter-limit"),
    path("plant/limits/<int:limit>/back", limits.take_back, name="take-limit-back"),
    path("plant/route", route.route, name="plant-route"),
    path("plant/route/start", route.start, name="start-route"),
    path("plant/route/<int:station>/move", route.move, name="move-station"),
    path("plant/<path:rest>", place.nothing, name="floor-nothing"),
]
