"""Addresses of the plant's pages. Wiring only."""

from django.urls import path

from plant.floor.api import (
    adjustments,
    asked,
    cure,
    day,
    limits,
    loads,
    place,
    route,
    trace,
    stop_use,
    trucks,
    unlabelled,
)

urlpatterns = [
    path("plant/", day.day, name="floor"),
    path("plant/live", day.live, name="day-live"),
    path("plant/at/<str:code>", day.station, name="at-station"),
    path("plant/questions/<int:question>/", asked.one, name="plant-question"),
    path("plant/questions/<int:question>/settle", asked.settle, name="plant-question-settle"),
    path("plant/choose", place.choose, name="choose-plant"),
    path("plant/limits", limits.limits, name="repair-limits"),
    path("plant/limits/enter", limits.enter, name="enter-limit"),
    path("plant/limits/<int:limit>/back", limits.take_back, name="take-limit-back"),
    path("plant/trucks", trucks.trucks, name="trucks"),
    path("plant/trucks/<uuid:uid>/close", trucks.close, name="close-truck"),
    path("plant/route", route.route, name="plant-route"),
    path("plant/route/start", route.start, name="start-route"),
    path("plant/route/<int:station>/move", route.move, name="move-station"),
    path("plant/unlabelled/", unlabelled.unlabelled, name="unlabelled"),
    path("plant/unlabelled/find", unlabelled.find, name="unlabelled-find"),
    path("plant/unlabelled/<uuid:uid>/", unlabelled.one, name="unlabelled-one"),
    path("plant/unlabelled/<uuid:uid>/rack", unlabelled.rack, name="unlabelled-rack"),
    path(
        "plant/unlabelled/<uuid:uid>/recognise", unlabelled.recognise, name="unlabelled-recognise"
    ),
    path(
        "plant/unlabelled/<uuid:uid>/<uuid:work_order>/photos/<int:number>",
        unlabelled.photo,
        name="unlabelled-photo",
    ),
    path("plant/loads/", loads.loads, name="plant-loads"),
    path("plant/loads/new", loads.new, name="plant-load-new"),
    path("plant/loads/<str:number>/", loads.load, name="plant-load"),
    path("plant/loads/<str:number>/tell", loads.retell, name="plant-load-retell"),
    path("plant/loads/<str:number>/record", loads.record, name="plant-load-record"),
    path("plant/loads/<str:number>/decide", loads.decide, name="plant-load-decide"),
    path("plant/cure/", cure.cure, name="plant-cure"),
    path("plant/cure/specify", cure.specify, name="plant-cure-specify"),
    path("plant/cure/qualified", cure.name, name="plant-qualified"),
    path("plant/cure/qualified/<int:qualified>/end", cure.end, name="plant-qualified-end"),
    path("plant/trace/", trace.trace, name="plant-trace"),
    path("plant/trace/casings.csv", trace.table, name="plant-trace-csv"),
    path("plant/adjustments/", adjustments.adjustments, name="plant-adjustments"),
    path("plant/adjustments/owed/<uuid:uid>/settle", adjustments.settle, name="plant-owed-settle"),
    path("plant/stop-use/", stop_use.stop_uses, name="stop-uses"),
    path("plant/stop-use/new", stop_use.new, name="stop-use-new"),
    path("plant/stop-use/send", stop_use.send, name="stop-use-send"),
    path("plant/stop-use/<uuid:uid>/", stop_use.one, name="stop-use-one"),
    path("plant/stop-use/<uuid:uid>/again", stop_use.again, name="stop-use-again"),
    path("plant/stop-use/<uuid:uid>/heard", stop_use.heard, name="stop-use-heard"),
    path("plant/stop-use/<uuid:uid>/withdraw", stop_use.withdraw, name="stop-use-withdraw"),
    path("plant/adjustments/claims", adjustments.open_claim, name="plant-claim-open"),
    path("plant/adjustments/claims/<uuid:uid>/", adjustments.claim, name="plant-claim"),
    path(
        "plant/adjustments/claims/<uuid:uid>/decide", adjustments.decide, name="plant-claim-decide"
    ),
    path("plant/<path:rest>", place.nothing, name="floor-nothing"),
]
