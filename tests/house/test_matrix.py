"""Who gets what answer at every address: role by endpoint, written by hand.

A cell is the status that the door gives for a request which is right in all but the sender. An
address without a row fails, and so does a method that no row names and that answers anything.
Every cell is asked in a transaction of its own that is rolled back.
"""

import hashlib
import io
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import time, timedelta
from http.cookies import SimpleCookie
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

import msgspec
import pytest
from django.conf import settings as django_settings
from django.core.cache import cache
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from PIL import Image
from pytest_django import Settings

from pickups.casings.models import WorkOrder
from pickups.config import mailbox
from pickups.custody import disputes, ownership
from pickups.customers import services as customers
from pickups.customers.models import Customer
from pickups.desk.queries.loose import today_of
from pickups.exchange import services as lists
from pickups.exchange.models import Import
from pickups.kernel import clock, ids
from pickups.kernel.clock import rfc3339
from pickups.labels.models import LabelStock
from pickups.notices import stopping
from pickups.people import services as people
from pickups.people.models import User, Words
from pickups.promises import keeping
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from pickups.runs import services as runs
from pickups.runs.models import RegularRun, Run
from pickups.runs.rules import Head
from pickups.sync import unsent
from plant.adjustments import services as adjustments
from plant.curing import services as curing
from plant.curing.models import Qualified
from plant.curing.record import Terms
from plant.curing.wire import LoadPosted
from plant.dock import consigning, specifying
from plant.dock import services as dock
from plant.dock.models import Calendar, Chamber
from plant.forecast import trying
from plant.forecast.supposing import Supposed
from plant.inspection import services as inspection
from plant.inspection.models import Rush
from plant.inspection.services import Told
from plant.inspection.wire import StationEvent
from plant.unlabelled import services as unlabelled
from plant.unlabelled.rules import Seen
from tests.conftest import Enrol
from tests.sync.test_unsent import key_of, plain, seal
from tests.world import Phone, World

SESSIONS = ("driver", "counter", "dispatcher", "plant", "sales", "admin")
SENDERS = ("push_cookie", "read_token", "closing", "revoked", "plant_key", "foreign")
ACTORS = ("nobody", *SESSIONS, *SENDERS)
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")

# nobody: no sign at all. driver to admin: a session. push_cookie, read_token: one credential of
# a phone. closing, revoked, foreign (a phone of the other store): both credentials.
TABLE = """
                                            nob drv cnt dis plt sal adm psh rea clo rev key for
GET  api/schema                             200 200 200 200 200 200 200 200 200 200 200 200 200
POST api/devices/enrol                      200 200 200 200 200 200 200 200 200 200 200 200 200
POST api/devices/renew                      401 401 401 401 401 401 401 401 200 403 401 401 200
POST api/devices/standing                   401 401 401 401 401 401 401 200 401 200 401 401 200
POST api/sync/push                          401 401 401 401 401 401 401 200 401 200 401 401 200
POST api/sync/pull                          401 401 401 401 401 401 401 401 200 403 401 401 200
PUT  api/photos/<str:sha256>                401 401 401 401 401 401 401 200 401 200 401 401 200
POST api/labels/rolls                       401 401 401 401 401 401 401 401 200 403 401 401 200
POST api/labels/print                       401 401 401 401 401 401 401 401 200 403 401 401 403
GET  api/tickets/<uuid:visit>               401 401 401 401 401 401 401 401 404 403 401 401 404
POST api/plant/events                       401 401 401 401 401 401 401 401 401 401 401 200 401
PUT  api/plant/photos/<str:sha256>          401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/plant/work                         401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/plant/casings/<str:label>          401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/plant/reasons                      401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/plant/changes                      401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/plant/route                        401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/plant/trace                        401 401 401 401 401 401 401 401 401 401 401 200 401
POST api/plant/loads                        401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/plant/loads/<str:number>           401 401 401 401 401 401 401 401 401 401 401 200 401
POST api/plant/loads/<str:number>/record    401 401 401 401 401 401 401 401 401 401 401 200 401
GET  api/.*                                 404 404 404 404 404 404 404 404 404 404 404 404 404
GET                                         302 302 302 302 302 302 302 302 302 302 302 302 302
GET  office/sign-in                         200 200 200 200 200 200 200 200 200 200 200 200 200
POST office/sign-in                         302 302 302 302 302 302 302 302 302 302 302 302 302
POST office/sign-out                        302 302 302 302 302 302 302 302 302 302 302 302 302
POST office/language                        302 302 302 302 302 302 302 302 302 302 302 302 302
GET  office/                                302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/questions/<int:question>/withdraw 302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/questions/<int:question>/settle 302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/questions/<int:question>/label-back 302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/devices                         302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/devices/enrol                   302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/devices/code                    302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/devices/unsent                  302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/devices/unsent                  302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/devices/unsent/<str:sealed>/    302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/devices/unsent/<str:sealed>/    302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/devices/<uuid:uid>/close        302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/devices/<uuid:uid>/close        302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/devices/<uuid:uid>/revoke       302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/devices/<uuid:uid>/revoke       302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/contacts                        302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/contacts/<uuid:uid>/link        302 403 403 200 403 403 200 302 302 302 302 302 302
GET  office/contacts/<uuid:uid>/revoke      302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/contacts/<uuid:uid>/revoke      302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/rolls/                          302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/rolls/print                     302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/rolls/<int:roll>/allocate       302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/rolls/<int:roll>/<str:stock>.pdf 302 403 403 200 403 403 200 302 302 302 302 302 302
GET  office/lists/                          302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/lists/read                      302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/lists/<uuid:uid>/               302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/lists/<uuid:uid>/agree          302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/lists/<uuid:uid>/faults.csv     302 403 403 200 403 403 200 302 302 302 302 302 302
GET  office/lists/standing/<str:name>.<str:form> 302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/lists/template/<str:name>.<str:form> 302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/lists/work/<str:name>.<str:form> 302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/specifications/                 302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/specifications/<uuid:customer>/ 302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/specifications/<uuid:customer>/specify 302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/specifications/<uuid:customer>/withdraw 302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/specifications/<uuid:customer>/withdraw 302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/specifications/<uuid:customer>/<uuid:yard>/ 302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/specifications/<uuid:customer>/<uuid:yard>/specify 302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/specifications/<uuid:customer>/<uuid:yard>/withdraw 302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/specifications/<uuid:customer>/<uuid:yard>/withdraw 302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/sheets/                         302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/sheets/new                      302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/sheets/<uuid:uid>/              302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/head          302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/stops         302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/stops/<uuid:stop> 302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/move/<uuid:stop> 302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/remove/<uuid:stop> 302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/put           302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/take-off      302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/hand          302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/take-back     302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/back          302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/not-back      302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/undo          302 403 403 409 403 403 409 302 302 302 302 302 302
GET  office/sheets/<uuid:uid>/throw-away    302 403 403 200 403 403 200 302 302 302 302 302 302
POST office/sheets/<uuid:uid>/throw-away    302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/visits/<uuid:visit>/            302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/visits/<uuid:visit>/receipt.pdf 302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/visits/<uuid:visit>/revoke      302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/visits/<uuid:visit>/dispute     302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/disputes/                       302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/disputes/<uuid:uid>/            302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/disputes/<uuid:uid>/note        302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/disputes/<uuid:uid>/assign      302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/disputes/<uuid:uid>/settle      302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/promises/                       302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/promises/tell                   302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/promises/kept                   302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/promises/sure                   302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/promises/sure/<uuid:customer>   302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/yield/                          302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/yield/<uuid:customer>/          302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/rack/                           302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/unclaimed/                      302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/unclaimed/decide                302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/owners/<uuid:uid>/              302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/owners/<uuid:uid>/sell          302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/owners/<uuid:uid>/exchange      302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/owners/<uuid:uid>/settle        302 403 403 DID 403 403 DID 302 302 302 302 302 302
POST office/owners/<uuid:uid>/undo/<uuid:change> 302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/labels                          302 403 403 DID 403 DID DID 302 302 302 302 302 302
GET  office/labels/<str:code>               302 403 403 200 403 200 200 302 302 302 302 302 302
POST office/labels/<str:code>/void          302 403 403 DID 403 403 DID 302 302 302 302 302 302
GET  office/photos/<uuid:fact>/<int:number> 302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/signatures/<uuid:visit>         302 403 403 200 403 200 200 302 302 302 302 302 302
GET  office/<path:rest>                     302 403 403 404 403 404 404 302 302 302 302 302 302
GET  plant/                                 302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/live                             302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/at/<str:code>                    302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/questions/<int:question>/        302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/questions/<int:question>/settle  302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/choose                           302 403 403 DID DID DID DID 302 302 302 302 302 302
GET  plant/limits                           302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/limits/enter                     302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/limits/<int:limit>/back          302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/targets                          302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/targets/enter                    302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/targets/<int:target>/back        302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/trucks                           302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/trucks/<uuid:uid>/close          302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/forecast                         302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/suppose/                         302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/suppose/                         302 403 403 DID DID DID DID 302 302 302 302 302 302
GET  plant/suppose/<uuid:uid>/              302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/suppose/<uuid:uid>/live          302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/suppose/<uuid:uid>/stop          302 403 403 DID DID DID DID 302 302 302 302 302 302
GET  plant/rush/                            302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/rush/                            302 403 403 DID DID DID DID 302 302 302 302 302 302
GET  plant/rush/<uuid:uid>/                 302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/rush/<uuid:uid>/decide           302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/route                            302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/route/start                      302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/route/<int:station>/move         302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/loads/                           302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/loads/new                        302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/loads/<str:number>/              302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/loads/<str:number>/tell          302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/loads/<str:number>/record        302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/loads/<str:number>/decide        302 403 403 403 403 403 DID 302 302 302 302 302 302
GET  plant/cure/                            302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/cure/specify                     302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/cure/qualified                   302 403 403 403 403 403 DID 302 302 302 302 302 302
POST plant/cure/qualified/<int:qualified>/end 302 403 403 403 403 403 DID 302 302 302 302 302 302
GET  plant/adjustments/                     302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/adjustments/owed/<uuid:uid>/settle 302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/adjustments/claims               302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/adjustments/claims/<uuid:uid>/   302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/adjustments/claims/<uuid:uid>/decide 302 403 403 403 403 403 DID 302 302 302 302 302 302
GET  plant/trace/                           302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/trace/casings.csv                302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/stop-use/                        302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/stop-use/new                     302 403 403 200 200 403 200 302 302 302 302 302 302
POST plant/stop-use/new                     302 403 403 200 200 403 200 302 302 302 302 302 302
POST plant/stop-use/send                    302 403 403 DID DID 403 DID 302 302 302 302 302 302
GET  plant/stop-use/<uuid:uid>/             302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/stop-use/<uuid:uid>/again        302 403 403 DID DID 403 DID 302 302 302 302 302 302
POST plant/stop-use/<uuid:uid>/heard        302 403 403 DID DID 403 DID 302 302 302 302 302 302
POST plant/stop-use/<uuid:uid>/withdraw     302 403 403 DID DID 403 DID 302 302 302 302 302 302
GET  plant/unlabelled/                      302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/unlabelled/find                  302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/unlabelled/<uuid:uid>/           302 403 403 200 200 200 200 302 302 302 302 302 302
POST plant/unlabelled/<uuid:uid>/rack       302 403 403 403 DID 403 DID 302 302 302 302 302 302
POST plant/unlabelled/<uuid:uid>/recognise  302 403 403 403 DID 403 DID 302 302 302 302 302 302
GET  plant/unlabelled/<uuid:uid>/<uuid:work_order>/photos/<int:number> 302 403 403 200 200 200 200 302 302 302 302 302 302
GET  plant/<path:rest>                      302 403 403 404 404 404 404 302 302 302 302 302 302
GET  ^c/(?P<token>.*)$                      200 200 200 200 200 200 200 200 200 200 200 200 200
POST ^c/(?P<token>.*)$                      DID DID DID DID DID DID DID DID DID DID DID DID DID
GET  casings/                               403 403 403 403 403 403 403 403 403 403 403 403 403
POST casings/sign-out                       403 403 403 403 403 403 403 403 403 403 403 403 403
POST casings/language                       403 403 403 403 403 403 403 403 403 403 403 403 403
GET  casings/<uuid:order>                   403 403 403 403 403 403 403 403 403 403 403 403 403
GET  casings/<uuid:order>/photos/<int:number> 403 403 403 403 403 403 403 403 403 403 403 403 403
GET  casings/receipts/<uuid:visit>          403 403 403 403 403 403 403 403 403 403 403 403 403
GET  casings/receipts/<uuid:visit>.pdf      403 403 403 403 403 403 403 403 403 403 403 403 403
GET  casings/receipts/<uuid:visit>/photos/<int:number> 403 403 403 403 403 403 403 403 403 403 403 403 403
POST casings/receipts/<uuid:visit>/otherwise 403 403 403 403 403 403 403 403 403 403 403 403 403
GET  casings/stop-use/<uuid:uid>            403 403 403 403 403 403 403 403 403 403 403 403 403
POST casings/stop-use/<uuid:uid>            403 403 403 403 403 403 403 403 403 403 403 403 403
GET  ^R/(?P<key>.*)$                        200 200 200 200 200 200 200 200 200 200 200 200 200
POST ^R/(?P<key>.*)$                        DID DID DID DID DID DID DID DID DID DID DID DID DID
GET  receipt/                               403 403 403 403 403 403 403 403 403 403 403 403 403
GET  receipt/receipt.pdf                    403 403 403 403 403 403 403 403 403 403 403 403 403
POST receipt/otherwise                      403 403 403 403 403 403 403 403 403 403 403 403 403
POST receipt/language                       403 403 403 403 403 403 403 403 403 403 403 403 403
POST receipt/leave                          403 403 403 403 403 403 403 403 403 403 403 403 403
GET  receipt/<path:rest>                    403 403 403 403 403 403 403 403 403 403 403 403 403
GET  casings/<path:rest>                    403 403 403 403 403 403 403 403 403 403 403 403 403
GET  ^L/(?P<rest>.*)$                       200 200 200 200 200 200 200 200 200 200 200 200 200
GET  favicon.ico                            200 200 200 200 200 200 200 200 200 200 200 200 200
GET  healthz                                200 200 200 200 200 200 200 200 200 200 200 200 200
GET  readyz                                 503 503 503 503 503 503 503 503 503 503 503 503 503
GET  ^app/[^.]*$                            200 200 200 200 200 200 200 200 200 200 200 200 200
GET  mail/                                  200 200 200 200 200 200 200 200 200 200 200 200 200
GET  mail/<str:name>/                       200 200 200 200 200 200 200 200 200 200 200 200 200
"""  # noqa: E501
# DID: a redirect to somewhere else than the sign-in: it was done. readyz: no worker runs here.
# undo: who has made no step has nothing to undo.
OWN_DOORS = ("", "office/sign-in", "office/sign-out", "office/language")
# /mail/ is there only while no mail server is named, and only for this machine.

# A customer, by the session that a mailed link was swapped for. Everywhere else such a session is
# nobody's. cus: whose casing it is; oth: another customer, for whom it is not there.
CUSTOMERS = """
                                            cus oth
GET  casings/                               200 200
POST casings/sign-out                       DID DID
POST casings/language                       DID DID
GET  casings/<uuid:order>                   200 404
GET  casings/<uuid:order>/photos/<int:number> 200 404
GET  casings/receipts/<uuid:visit>          200 404
GET  casings/receipts/<uuid:visit>.pdf      200 404
GET  casings/receipts/<uuid:visit>/photos/<int:number> 404 404
POST casings/receipts/<uuid:visit>/otherwise DID 404
GET  casings/stop-use/<uuid:uid>            200 404
POST casings/stop-use/<uuid:uid>            DID 404
GET  ^R/(?P<key>.*)$                        200 200
POST ^R/(?P<key>.*)$                        DID DID
GET  casings/<path:rest>                    404 404
GET  ^c/(?P<token>.*)$                      200 200
POST ^c/(?P<token>.*)$                      DID DID
"""

# Who has scanned the square of a receipt; everywhere else such a session is nobody's.
BEARER = """
                                            own
GET  receipt/                               200
GET  receipt/receipt.pdf                    200
POST receipt/otherwise                      DID
POST receipt/language                       DID
POST receipt/leave                          DID
GET  receipt/<path:rest>                    404
GET  casings/                               403
GET  casings/receipts/<uuid:visit>          403
"""
KEY = "3V9K0TQ7ZD4H2M8XN5R1CJ6PWA"

# Administration: what an administrator gets; everybody else is led to the sign-in. A place,
# customer or yard is never deleted (facts name it); phones and rolls are only looked at, keys made
# and ended.
ADMIN = """
                                list add change history delete
admin/people/user/              200  200 200    200     403
admin/people/site/              200  200 200    200     403
admin/people/device/            200  403 200    200     403
admin/people/plantkey/          200  200 200    200     403
admin/people/words/             200  403 200    200     200
admin/labels/roll/              200  403 200    200     403
admin/labels/labelstock/        200  200 200    200     403
admin/customers/customer/       200  200 200    200     403
admin/customers/yard/           200  200 200    200     403
admin/customers/contact/        200  200 200    200     200
admin/runs/regularrun/          200  200 200    200     200
admin/dock/station/             200  200 200    200     200
admin/dock/calendar/            200  200 200    200     403
admin/dock/chamber/             200  200 200    200     200
admin/dock/route/               200  200 200    200     403
admin/dock/repairlimit/         200  403 200    200     403
admin/dock/treadtarget/         200  403 200    200     403
"""
ADMIN_DOORS = {  # route: (what a person who may not gets, what an administrator gets)
    "admin/": (302, 200),
    "admin/login/": (302, 302),
    "admin/logout/": (302, 405),
    "admin/password_change/": (302, 200),
    "admin/password_change/done/": (302, 200),
    "admin/autocomplete/": (302, 403),
    "admin/jsi18n/": (302, 200),
    "admin/r/<path:content_type_id>/<path:object_id>/": (302, 404),
    "admin/people/user/<id>/password/": (302, 200),
    "admin/^(?P<app_label>people|labels|customers|runs|dock)/$": (302, 200),
    "admin/(?P<url>.*)$": (302, 404),
}
# What Django and simple-history hang below each model: by the row of the model.
BELOW = {
    "": "list",
    "add/": "add",
    "<path:object_id>/change/": "change",
    "<path:object_id>/history/": "history",
    "<path:object_id>/delete/": "delete",
    "<path:object_id>/": None,
    "^([^/]+)/history/([^/]+)/$": None,
}


def grid(text: str) -> tuple[list[str], dict[str, list[str]]]:
    """A table's head, and its rows by everything that stands before the cells."""
    head, *lines = text.strip("\n").splitlines()
    columns = head.split()
    rows = {}
    for line in lines:
        *name, cells = line.split(maxsplit=len(line.split()) - len(columns))
        rows[" ".join(name)] = cells.split()
    return columns, rows


def routes(resolver: URLResolver, before: str = "") -> Iterator[str]:
    for one in resolver.url_patterns:
        route = before + str(one.pattern)
        if isinstance(one, URLPattern):
            yield route
        else:
            yield from routes(one, route)


SHEET = "office/sheets/<uuid:uid>/"
A_LIST = b"customer,yard\nTarn Valley Haulage,South yard\n"
ROUTES = sorted(set(routes(get_resolver())))
ROWS = grid(TABLE)[1]
MODELS = grid(ADMIN)[1]
GUESTS = grid(CUSTOMERS)[1]
BEARERS = grid(BEARER)[1]

LOAD = {"number": "2026-07-14-2", "chamber": "c1"}
A_RECORD = b"minutes,temperature_c\n0,99\n5,99\n"
RECORD = {
    "temperature_unit": "c",
    "readings": [
        {"at": "2026-07-14T11:00:00Z", "temperature": 99},
        {"at": "2026-07-14T11:05:00Z", "temperature": 99},
    ],
}


CURED = (
    "plant/loads/", "plant/cure/", "plant/adjustments/", "plant/questions/", "plant/stop-use/",
)  # fmt: skip
PLANT_BODIES: dict[str, dict[str, Any]] = {
    "plant/rush/": {"grounds": "They wait at the counter"},
    "plant/rush/<uuid:uid>/decide": {"kind": "declined"},
    "plant/suppose/": {"from": "22:00", "to": "06:00", "uid": UUID(int=5)},
    "plant/route/<int:station>/move": {"to": 2},
    "plant/targets/enter": {"tread_design": "DX-1", "pitch_mm": "70", "sheet": "Sheet 2"},
    "plant/limits/enter": {"zone": "crown", "kind": "cut", "most_mm": "4", "chart": "Chart 7"},
}


@dataclass
class Setting:
    """What the requests are about, and everybody who may send them."""

    world: World
    question: int
    contested: int
    casing: UUID
    device: UUID
    label: str
    mail: str
    code: str
    picture: bytes
    operation: dict[str, Any]
    link: str
    shown: UUID
    limit: int
    target: int
    truck: UUID
    visit: UUID
    dispute: UUID
    sold: WorkOrder
    sale: UUID
    sheets: dict[str, Run]
    read: Import
    sealed: bytes
    boss: UUID
    qualified: int
    held: str
    asked: int
    claim: UUID
    nameless: UUID
    missing: WorkOrder
    stop: UUID
    supposed: UUID
    rush: UUID
    promised: UUID
    clients: dict[str, Client] = field(default_factory=dict)

    def address(self, route: str) -> str:
        """A real address for a route of the table."""
        sha256 = hashlib.sha256(self.picture).hexdigest()
        wanted = self.contested if route.endswith("withdraw") else self.question
        wanted = self.asked if route.startswith("plant/questions/") else wanted
        filled, sheet = route, self.sheet(route)
        for name, value in {
            "sheets/<uuid:uid>": f"sheets/{sheet.uid}",
            "lists/<uuid:uid>": f"lists/{self.read.uid}",
            "<str:name>.<str:form>": "work.xlsx" if "/work/" in route else "all.xlsx",
            "owners/<uuid:uid>/undo": f"owners/{self.sold.uid}/undo",
            "owners/<uuid:uid>": f"owners/{self.shown}",
            "<uuid:change>": self.sale,
            "<uuid:customer>": self.world.customer.uid,
            "<uuid:yard>": self.world.yard.uid,
            "<uuid:stop>": sheet.stops.get().uid,
            "<str:sha256>": sha256,
            "<int:question>": wanted,
            "<int:limit>": self.limit,
            "<int:target>": self.target,
            "at/<str:code>": "at/buffing",
            "trucks/<uuid:uid>": f"trucks/{self.truck}",
            "<int:station>": self.world.plant.stations.get(code="buffing").pk,
            "<str:sealed>": hashlib.sha256(self.sealed).hexdigest(),
            "contacts/<uuid:uid>": f"contacts/{self.world.customer.contacts.get().pk}",
            "disputes/<uuid:uid>": f"disputes/{self.dispute}",
            "unlabelled/<uuid:uid>": f"unlabelled/{self.nameless}",
            "<uuid:work_order>": self.missing.uid,
            "stop-use/<uuid:uid>": f"stop-use/{self.stop}",
            "claims/<uuid:uid>": f"claims/{self.claim}",
            "suppose/<uuid:uid>": f"suppose/{self.supposed}",
            "rush/<uuid:uid>": f"rush/{self.rush}",
            "<uuid:uid>": self.device,
            "<uuid:order>": self.shown,
            "^c/(?P<token>.*)$": self.link.removeprefix("/"),
            "^R/(?P<key>.*)$": f"R/{KEY}",
            "<str:code>": self.label,
            "<uuid:fact>": self.casing,
            "<uuid:visit>": self.visit,
            "<int:number>": 1,
            "<int:roll>/allocate": f"{self.world.store.rolls.earliest('pk').pk}/allocate",
            "<int:roll>/<str:stock>.pdf": f"{self.world.store.rolls.earliest('pk').pk}/roll.pdf",
            "<str:name>": self.mail,
            "<str:number>": LOAD["number"],
            "<int:qualified>": self.qualified,
            "<str:label>": self.label,
            "<path:rest>": "nowhere/at/all",
            "^L/(?P<rest>.*)$": f"L/{self.label}",
            "^app/[^.]*$": "app/today",
            "api/.*": "api/nothing",
        }.items():
            filled = filled.replace(name, str(value))
        queries = {"office/labels": f"?q={self.label}"}
        queries |= {"plant/trace/": "?load=2026-07-14-2", "api/plant/trace": "?load=2026-07-14-2"}
        queries["plant/trace/casings.csv"] = "?load=2026-07-14-2"
        queries |= dict.fromkeys(("plant/stop-use/new", "plant/stop-use/send"), "?lot=CG-1")
        queries[f"{SHEET}throw-away"] = f"?seen={sheet.version}"
        return f"/{filled}" + queries.get(route, "")

    def sheet(self, route: str) -> Run:
        """The load sheet on which a step can be made."""
        late = {"take-back": "handed", "back": "handed", "not-back": "back"}
        return self.sheets[late.get(route.removeprefix(SHEET), "written")]

    def form(self, route: str) -> Any:
        """What a page's form sends; None where the address has no form of its own here."""
        if route == "office/devices/unsent":
            return {"file": SimpleUploadedFile("unsent.jwe", self.sealed)}
        if route.endswith(("/dispute", "/otherwise", "/note")):
            return {"said": "they took three", "theirs": "3"}
        if route.endswith(("disputes/<uuid:uid>/assign", "disputes/<uuid:uid>/settle")):
            due = disputes.due_day(clock.now()).isoformat()
            return {"due_on": due, "outcome": "stands", "said": "as listed"}
        if route == "office/lists/read":
            return {"file": SimpleUploadedFile("yards.csv", A_LIST)}
        if route.startswith("plant/unlabelled/"):
            new, which = self.world.labels[0], str(self.missing.uid)
            return {"size": "11R22.5", "rack": "B-3", "which": which, "new": new, "told_by": "-"}
        if route in PLANT_BODIES:
            return {"label": self.missing.label, **PLANT_BODIES[route]}
        if route.startswith(CURED):
            return self.cured(route)
        if route.endswith("agree"):
            return {"mark": lists.look(self.read)[0].mark}
        if route.endswith("/specify"):
            return {"knowing": "0", "oldest_years": "7"}
        if route.startswith("office/unclaimed/"):
            said = {"decision": "other", "grounds": "They moved away"}
            return {"label": self.label, **said}
        if route.startswith("office/owners/"):
            contact = self.world.customer.contacts.get().pk
            sale = {"grade": "A", "amount": "40", "pays": "price", "contact": contact}
            mixed = {"other": self.sold.label, "said": "mixed up"}
            return {"sure": "yes", **sale, **mixed}
        if route.startswith("office/sheets/"):
            head = {"on": self.sheets["written"].on, "start": self.world.store.uid, "kind": "route"}
            plant = f"site:{self.world.plant.uid}"
            to = "1" if "/move/" in route else "10:30"
            step = {"to": to, "work_order": self.shown, "place": plant, **head}
            return {"seen": self.sheet(route).version, **step}
        return None

    def body(self, route: str) -> dict[str, Any]:
        """A body that is right, as keyword arguments of the test client."""
        forms: dict[str, dict[str, Any]] = {
            "office/sign-in": {"user": "odile", "password": "as-long-as-a-rope"},
            "office/language": {"language": "es"},
            "office/devices/enrol": {"site": self.world.store.uid},
            "office/rolls/print": {"store": self.world.store.uid, "count": 2, "stock": "roll"},
            "office/rolls/<int:roll>/allocate": {"holder": self.world.driver.uid},
            "office/labels/<str:code>/void": {"reason": "smeared"},
            "office/promises/tell": {
                "seen": f"{self.promised} {self.promised}",
                "on": today_of(clock.now()),
            },
            "office/promises/sure/<uuid:customer>": {"percent": 80},
            "office/questions/<int:question>/settle": {"said": "found out"},
            "office/questions/<int:question>/label-back": {
                "said": "wrong tire",
                "fact": self.casing,
            },
            "office/questions/<int:question>/withdraw": {
                "said": "wrong pile",
                "work_order": self.casing,
            },
        }
        if (told := self.form(route)) is not None:
            return {"data": told}
        now = self.operation["happened_at"]
        documents: dict[str, dict[str, Any]] = {
            "api/devices/enrol": {"code": self.code, "device": str(uuid4()), "name": "new"},
            "api/sync/push": {"protocol": 1, "sent_at": now, "operations": [self.operation]},
            "api/sync/pull": {"cursor": None},
            "api/devices/standing": {"waits": 3},
            "api/labels/rolls": {"id": str(uuid4()), "count": 2},
            "api/labels/print": {"labels": [self.label]},
            "api/plant/events": {
                "id": str(uuid4()),
                "label": self.label,
                "station": "receiving",
                "outcome": "received",
                "happened_at": now,
            },
        }
        documents["api/plant/loads"] = {**LOAD, "id": str(uuid4()), "told_at": now}
        documents["api/plant/loads/<str:number>/record"] = RECORD
        if route in documents:
            return {"data": json.dumps(documents[route]), "content_type": "application/json"}
        if route.endswith("photos/<str:sha256>"):
            return {"data": self.picture, "content_type": "image/jpeg"}
        return {"data": forms.get(route, {})}

    def cured(self, route: str) -> dict[str, Any]:
        """All that a form about a load, a cure specification or a stop-use notice takes."""
        cure = {"unit": "c", "low": "95", "minutes": "60", "gap": "5", "source": "sheet 4"}
        named = {
            "person": self.world.operator.uid,
            "said": "agreed",
            "matter": "claim",
            "grounds": "measured",
            "knowing-": "1",
        }
        done = {"label": self.held, "what": "release", "number": "14-9", "q": self.held}
        done |= {"complaint": "split", "tread": "9"}
        order, whose = str(self.missing.uid), str(self.world.customer.uid)
        done |= {"uid": str(uuid4()), "order": order, "orders": order, "count": "1", "sure": "yes"}
        done |= {"why_en": "short", "customer": whose, "heard": "Ines"}
        if route.endswith("claims/<uuid:uid>/decide"):
            done["what"] = "refused"
        return {"file": SimpleUploadedFile("r.csv", A_RECORD), **cure, **named, **done}


def credentials(phone: Phone, *, push: bool = True, read: bool = True) -> Client:
    client = Client(raise_request_exception=False)
    if push:
        client.cookies["__Host-yardloop_push"] = phone.push_secret
    if read:
        client.defaults["HTTP_AUTHORIZATION"] = f"Bearer {phone.read_token}"
    return client


def session(role: str, world: World) -> Client:
    place, staff = world.plant if role == "plant" else world.store, role == "admin"
    user = User.objects.filter(role=role).first() or User.objects.create_user(
        role, role=role, site=place, is_staff=staff, is_superuser=staff
    )
    client = Client(raise_request_exception=False)
    client.force_login(user)
    return client


def a_short_load(world: World, boss: User) -> tuple[int, str, UUID]:
    """A load that holds a casing, and who may decide about it: their number and its label; and a
    claim about that casing."""
    plant, at, held = world.plant.uid, clock.now(), world.a_label()
    curing.tell(plant=plant, posted=LoadPosted(uuid4(), LOAD["number"], at, started_at=at))
    event = {"label": held, "station": "enveloping", "outcome": "passed", "happened_at": at}
    told = StationEvent(id=uuid4(), load=LOAD["number"], **event)  # type: ignore[arg-type]
    inspection.tell(plant=plant, events=[Told(told, None, None, "", None)], at=at)
    terms = Terms(low_c=95, minutes=60, gap_s=300)
    curing.specify(plant=plant, chamber="", terms=terms, law=None, source="-", by=boss.uid)
    curing.take_record(plant=plant, number=LOAD["number"], raw=A_RECORD, form="table")
    curing.name_qualified(plant=plant, person=boss.uid, matter="cure", grounds="-", by=uuid4())
    curing.name_qualified(plant=plant, person=boss.uid, matter="claim", grounds="-", by=uuid4())
    claim = adjustments.claim(plant=plant, found_by=held, label=held, complaint="split",
                              readings=[9], by=boss.uid)  # fmt: skip
    return Qualified.objects.get(matter="cure").pk, held, claim


def a_question_of_the_plants(world: World) -> int:
    """A question that somebody at the plant answers."""
    facts = {"plant": str(world.plant.uid), "number": LOAD["number"], "labels": []}
    ask = Ask(Kind.LOAD_MISSING, "load:another", facts)
    questions.ask([ask], at=clock.now())
    return Question.objects.get(subject=ask.subject).pk


def a_nameless_one(world: World, phone: Phone, sha256: str) -> tuple[UUID, WorkOrder]:
    """A casing found without a label, and one with a picture that it may be."""
    plant, at, label = world.plant.uid, clock.now(), world.a_label()
    told = phone.pick_up(label, world.yard.uid, uuid4(), size="11R22.5", photos=[sha256])
    assert phone.push().status == 200
    event = {"label": label, "station": "receiving", "outcome": "received", "happened_at": at}
    received = StationEvent(id=uuid4(), **event)  # type: ignore[arg-type]
    inspection.tell(plant=plant, events=[Told(received, None, None, "", None)], at=at)
    seen, by = Seen(size="11R22.5"), world.dispatcher.uid
    found = unlabelled.find(plant=plant, seen=seen, note="", rack="", by=by, uid=uuid4(), at=at)
    return found.uid, WorkOrder.objects.get(uid=told["id"])


def a_stop_use(world: World, order: WorkOrder) -> UUID:
    """A notice about a casing that a lot has touched."""
    lot = {"kind": "cushion_gum", "number": "CG-1"}
    event = {"label": order.label, "station": "cushion-gum", "outcome": "passed", "lots": [lot]}
    told = msgspec.convert(
        {**event, "id": uuid4(), "happened_at": clock.now()}, StationEvent, strict=False
    )
    plant, at = world.plant.uid, clock.now()
    inspection.tell(plant=plant, events=[Told(told, None, None, "", None)], at=at)
    uid, casings = uuid4(), [stopping.Casing(world.customer.uid, order.uid, order.label)]
    stopping.write(uid=uid, plant=plant, casings=casings, why={"en": "short"}, traced={},
                   by=world.dispatcher.uid)  # fmt: skip
    return uid


def a_rush(world: World, label: str) -> UUID:
    """Somebody of the office asked for it."""
    asked = Rush(uid=uuid4(), plant=world.plant, work_order=uuid4(), label=label, grounds="-")
    asked.by, asked.at = world.dispatcher, clock.now()
    asked.save()
    return asked.uid


def a_promise(world: World, phone: Phone) -> UUID:
    """A casing that was to be back yesterday."""
    on, at = today_of(clock.now()) - timedelta(days=1), rfc3339(clock.now() - timedelta(days=9))
    told: dict[str, Any] = {"pickup": str(uuid4()), "yard": str(world.yard.uid)}
    told |= {"label": world.a_label(), "work": "retread"}
    told |= {"promised": {"on": str(on), "basis": "by_hand"}}
    entered = phone.enter("custody.pick_up", told, version=2, happened_at=at)
    assert phone.push().status == 200
    keeping.keep(work_orders=[UUID(entered["id"])], at=clock.now())
    return UUID(entered["id"])


def a_link(customer: Customer) -> str:
    return customers.new_link(contact=customer.contacts.get().uid, at=clock.now())


def a_sheet(world: World, state: str) -> Run:
    """A load sheet with a stop at the plant, as far as this."""
    today = clock.local(clock.now(), ZoneInfo(django_settings.DEALER_TIME_ZONE)).date()
    head = Head(start=world.store.uid, on=today, driver=world.driver.uid)
    made = runs.draw_up(site=world.store.uid, head=head)
    runs.add_stop(run=made.uid, site=world.plant.uid)
    if state in ("handed", "back"):
        runs.hand(run=made.uid)
    if state == "back":
        runs.come_back(run=made.uid)
    made.refresh_from_db()
    return made


def a_limit(world: World) -> int:
    """A repair limit that the plant has entered."""
    place = ("crown", "nail_hole", "medium")
    return dock.enter_limit(
        plant=world.plant.uid,
        place=place,
        most_mm=10,
        most_count=None,
        chart="Chart 7",
        by=world.operator,
        at=clock.now(),
    ).pk


def a_truck(world: World) -> UUID:
    """The list of a truck that is on its way to the plant."""
    run = a_sheet(world, "handed")
    consigning.of_run(run=run.uid, at=clock.now())
    return ids.derived(run.stops.get().uid, "in")


def guest(customer: Customer) -> Client:
    client = Client(raise_request_exception=False)
    assert client.post(a_link(customer)).status_code == 302
    return client


@pytest.fixture
def house(world: World, enrol: Enrol, settings: Settings, tmp_path: Path) -> Setting:
    settings.EMBEDDED_MAIL, settings.MAIL_DIR = True, tmp_path / "mail"
    settings.MAIL_DIR.mkdir()
    settings.APP_DIST = tmp_path
    (tmp_path / "index.html").write_text("shell")
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # quick
    world.dispatcher.set_password("as-long-as-a-rope")
    world.dispatcher.save()
    out = io.BytesIO()
    Image.new("RGB", (4, 3)).save(out, "JPEG")
    picture, label = out.getvalue(), world.a_label()
    phone, foreign = enrol(), enrol(world.other_driver)
    sha256 = hashlib.sha256(picture).hexdigest()
    headers = {"Content-Type": "image/jpeg", "Cookie": f"__Host-yardloop_push={phone.push_secret}"}
    assert phone.door("PUT", f"/api/photos/{sha256}", picture, headers).status == 200
    first = phone.pick_up(label, world.yard.uid, uuid4(), photos=[sha256])
    shown = phone.pick_up(world.a_label(), world.yard.uid, uuid4(), photos=[sha256])
    bought = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.pick_up(world.a_label(), uuid4(), uuid4())  # at a yard that nobody knows
    over = {"pickup": shown["payload"]["pickup"], "yard": str(world.yard.uid)}
    over |= {"casings": [shown["id"]], "signature": sha256, "receipt_key": KEY}
    phone.enter("custody.finish_pickup", over, version=5)
    foreign.pick_up(label, world.other_yard.uid, uuid4())
    assert phone.push().status == foreign.push().status == 200
    closing, revoked, fresh = enrol(), enrol(), enrol()
    people.close_device(uid=closing.uid)
    people.revoke_device(uid=revoked.uid)
    visit = UUID(shown["payload"]["pickup"])
    disputed = disputes.tell(visit=visit, said="three", theirs=3, by=None)
    assert disputed is not None
    boss = User.objects.create_user(
        "boss", role="admin", site=world.store, is_staff=True, is_superuser=True
    )
    qualified, held, claim = a_short_load(world, boss)
    nameless, missing = a_nameless_one(world, phone, sha256)
    sealed = seal(plain(fresh), key_of(fresh))
    unsent.put_by(sealed)
    made = Setting(
        world=world,
        sealed=sealed,
        boss=boss.uid,
        qualified=qualified,
        held=held,
        asked=a_question_of_the_plants(world),
        claim=claim,
        nameless=nameless,
        missing=missing,
        stop=a_stop_use(world, missing),
        supposed=trying.ask(
            plant=world.plant.uid,
            what=Supposed(shift=(time(22), time(6))),
            by=world.driver,  # who sees none of these pages, and so asks nothing here
            at=clock.now(),
            uid=uuid4(),
        ),
        rush=a_rush(world, label),
        promised=a_promise(world, phone),
        read=lists.take_in(raw=A_LIST, name="yards.csv", wanted="", by=None, at=clock.now()),
        sheets={state: a_sheet(world, state) for state in ("written", "handed", "back")},
        question=Question.objects.get(kind="yard_unknown").id,
        contested=Question.objects.get(kind="label_contested").id,
        casing=UUID(first["id"]),
        device=fresh.uid,
        label=label,
        link=a_link(world.customer),
        shown=UUID(shown["id"]),
        limit=a_limit(world),
        target=specifying.enter_target(
            plant=world.plant.uid,
            tread_design="DL-41",
            size="",
            figures={"pitch_mm": 76.2},
            sheet="Sheet of March",
            by=world.operator,
            at=clock.now(),
        ).pk,
        truck=a_truck(world),
        visit=visit,
        dispute=disputed.uid,
        sold=WorkOrder.objects.get(uid=bought["id"]),
        sale=ownership.sell(
            work_order=UUID(bought["id"]),
            agreed=ownership.Agreed("A", 4000, "price"),
            accepted_by=world.customer.contacts.get().pk,
            by=world.dispatcher.uid,
        ),
        mail=mailbox.keep(settings.MAIL_DIR, b"Subject: one\r\n\r\ntext").stem,
        code=people.show_code(site=world.store, made_by=world.dispatcher),
        picture=picture,
        operation=Phone(phone.door, world.driver.uid).pick_up(
            world.a_label(), world.yard.uid, uuid4(), happened_at=rfc3339(phone.clock())
        ),
    )
    key = Client(raise_request_exception=False)
    key.defaults["HTTP_AUTHORIZATION"] = f"Key {world.plant_key}"
    made.clients = {
        "nobody": Client(raise_request_exception=False),
        **{role: session(role, world) for role in SESSIONS},
        "push_cookie": credentials(phone, read=False),
        "read_token": credentials(phone, push=False),
        "closing": credentials(closing),
        "revoked": credentials(revoked),
        "plant_key": key,
        "foreign": credentials(foreign),
    }
    assert tuple(made.clients) == ACTORS
    return made


def ask(client: Client, method: str, address: str, **body: Any) -> HttpResponse:
    """One request, as if none had been before, and none of its writes stay."""
    cache.clear()
    cookies: SimpleCookie = SimpleCookie()
    cookies.update(client.cookies)
    try:
        with transaction.atomic():
            sent = getattr(client, method.lower())
            answer: HttpResponse = sent(address, **body)
            transaction.set_rollback(True)
    finally:
        client.cookies = cookies
    return answer


def said(answer: HttpResponse, route: str) -> str:
    """The cell that an answer makes: its status, or DID."""
    led_away = "/office/sign-in" in answer.headers.get("Location", "")
    done = answer.status_code == 302 and not led_away and route not in OWN_DOORS
    return "DID" if done else str(answer.status_code)


def test_every_role_gets_the_answer_of_its_row(house: Setting) -> None:
    wrong = []
    for row, cells in ROWS.items():
        method, _, route = row.partition(" ")
        for actor, cell in zip(ACTORS, cells, strict=True):
            body = house.body(route) if method != "GET" else {}
            got = said(ask(house.clients[actor], method, house.address(route), **body), route)
            if got != cell:
                wrong.append(f"{row} as {actor}: {got}, the row says {cell}")
    assert wrong == []


def test_a_customer_gets_the_answer_of_the_row_and_elsewhere_what_nobody_gets(
    house: Setting,
) -> None:
    wrong = []
    for which, customer in enumerate((house.world.customer, house.world.other_customer)):
        client = guest(customer)
        for row, cells in ROWS.items():
            method, _, route = row.partition(" ")
            body = house.body(route) if method != "GET" else {}
            got = said(ask(client, method, house.address(route), **body), route)
            cell = GUESTS[row][which] if row in GUESTS else cells[0]
            if got != cell:
                wrong.append(f"{row} as a guest of {customer}: {got}, the row says {cell}")
    assert wrong == []


def test_who_scanned_a_receipt_gets_that_one_and_elsewhere_what_nobody_gets(
    house: Setting,
) -> None:
    client = Client(raise_request_exception=False)
    assert client.post(f"/R/{KEY}").status_code == 302
    wrong = []
    for row, cells in ROWS.items():
        method, _, route = row.partition(" ")
        body = house.body(route) if method != "GET" else {}
        got = said(ask(client, method, house.address(route), **body), route)
        cell = BEARERS[row][0] if row in BEARERS else cells[0]
        if got != cell:
            wrong.append(f"{row} as who scanned: {got}, the row says {cell}")
    assert wrong == []


def test_every_row_of_the_customers_is_one_of_the_table() -> None:
    assert [row for row in (*GUESTS, *BEARERS) if row not in ROWS] == []


def test_every_address_has_a_row() -> None:
    written = {row.partition(" ")[2] for row in ROWS} | set(ADMIN_DOORS)
    written |= {model + below for model in MODELS for below in BELOW}
    assert [route for route in ROUTES if route not in written] == []


def test_every_row_has_an_address() -> None:
    written = {row.partition(" ")[2] for row in ROWS} | set(ADMIN_DOORS)
    assert [route for route in written if route not in ROUTES] == []
    assert [model for model in MODELS if model not in ROUTES] == []


def test_a_new_address_without_a_row_is_seen() -> None:
    known = {row.partition(" ")[2] for row in ROWS}
    assert {"office/novel"} - known == {"office/novel"}
    assert "admin/people/novel/" not in {model + below for model in MODELS for below in BELOW}


def test_a_method_that_no_row_names_does_nothing(house: Setting) -> None:
    wrong = []
    for route in {row.partition(" ")[2] for row in ROWS} - {"api/.*"}:  # nothing is there
        named = {row.split(" ")[0] for row in ROWS if row.partition(" ")[2] == route}
        for method in (m for m in METHODS if m not in named):
            for actor in ("nobody", "admin", "foreign", "plant_key"):
                answer = ask(house.clients[actor], method, house.address(route))
                if answer.status_code not in (401, 403, 405):
                    wrong.append(f"{method} {route} as {actor}: {answer.status_code}")
    assert wrong == []


def sample(house: Setting, model: str) -> str:
    """A row of the model that is there."""
    world = house.world
    known: dict[str, Any] = {
        "admin/people/user/": world.driver.pk,
        "admin/people/site/": world.store.pk,
        "admin/people/device/": house.device,
        "admin/people/words/": Words.objects.get_or_create(
            uid=UUID(int=9), defaults={"kind": "road", "text": "closed", "said_at": clock.now()}
        )[0].pk,
        "admin/people/plantkey/": world.plant_key.partition(".")[0],
        "admin/labels/roll/": world.store.rolls.get().pk,
        "admin/labels/labelstock/": LabelStock.objects.get_or_create(name="plain")[0].pk,
        "admin/customers/customer/": world.customer.pk,
        "admin/customers/yard/": world.yard.pk,
        "admin/customers/contact/": world.customer.contacts.get().pk,
        "admin/runs/regularrun/": RegularRun.objects.create(name="loop", site=world.store).pk,
        "admin/dock/station/": world.plant.stations.get(place=1).pk,
        "admin/dock/chamber/": Chamber.objects.get_or_create(
            plant=world.plant, code="one", holds=22
        )[0].pk,
        "admin/dock/route/": world.plant.pk,
        "admin/dock/repairlimit/": house.limit,
        "admin/dock/treadtarget/": house.target,
        "admin/dock/calendar/": Calendar.objects.get_or_create(plant=world.plant)[0].pk,
    }
    return str(known[model])


def test_the_records_are_for_the_administrator_alone(house: Setting) -> None:
    columns = grid(ADMIN)[0]
    wrong = []
    for model, cells in MODELS.items():
        pk, expected = sample(house, model), dict(zip(columns, cells, strict=True))
        for below, column in BELOW.items():
            if column is None:
                continue
            address = f"/{model}{below}".replace("<path:object_id>", pk)
            for actor in ACTORS:
                got = str(ask(house.clients[actor], "GET", address).status_code)
                cell = expected[column] if actor == "admin" else "302"
                if got != cell:
                    wrong.append(f"{actor} at {address}: {got}, the row says {cell}")
    assert wrong == []


def test_the_other_doors_of_the_records(house: Setting) -> None:
    wrong = []
    for route, (others, admin) in ADMIN_DOORS.items():
        address = "/" + route
        for name, value in {
            "<path:content_type_id>/<path:object_id>": "999/1",
            "<id>": str(house.world.driver.pk),
            "^(?P<app_label>people|labels|customers|runs|dock)/$": "people/",
            "(?P<url>.*)$": "nothing/",
        }.items():
            address = address.replace(name, value)
        for actor in ACTORS:
            got = ask(house.clients[actor], "GET", address).status_code
            if got != (admin if actor == "admin" else others):
                wrong.append(f"{actor} at {address}: {got}")
    assert wrong == []


@pytest.mark.django_db(transaction=True)  # a feed shows what is committed
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_a_phone_of_another_store_is_given_nothing_of_this_one(house: Setting) -> None:
    """The label is on a casing of either store here; each hears of its own only."""
    answer = ask(house.clients["foreign"], "POST", "/api/sync/pull", **house.body("api/sync/pull"))
    page = json.loads(answer.content)
    assert {row["scope"] for row in page["rows"]} == {f"site:{house.world.other_store.uid}"}
    assert str(house.casing) not in answer.content.decode()
    assert house.world.customer.name not in answer.content.decode()
