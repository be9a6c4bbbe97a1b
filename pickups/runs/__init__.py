"""Vehicles' trips: load sheets written by a dispatcher, handed to a driver, seen on the phone.

A load sheet says what is dropped and what is fetched at each stop, in order; what happens on the
way is custody's and is read from there, never kept twice. Regular runs are the timetable that
promises are made from.
"""
