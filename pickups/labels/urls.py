"""Addresses below /api/labels/. Wiring only."""

from django.urls import path

from pickups.labels.api import PrintView, RollView

urlpatterns = [
    path("rolls", RollView.as_view()),
    path("print", PrintView.as_view()),
]
