"""Devices and people: who may send, and what phones are told of whom."""
