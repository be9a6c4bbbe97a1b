"""Photos in an S3-compatible store of objects: a real one over HTTP on this machine."""

import json
from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import boto3
import pytest
from django.core.exceptions import ImproperlyConfigured
from django.core.files.storage import storages
from django.test import Client
from moto.server import ThreadedMotoServer
from pytest_django import Settings

from pickups.config import environment
from pickups.kernel import clock
from pickups.sync import photos, unsent
from pickups.sync.models import Photo
from tests.conftest import Enrol
from tests.pickups.desk.conftest import office, signed_in
from tests.sync.batches import push
from tests.sync.test_photos import kept, name, picture, put
from tests.sync.test_unsent import key_of, plain, seal
from tests.world import Phone, World

__all__ = ["office", "signed_in"]  # fixtures: a dispatcher's browser
BUCKET = "pile"
KEY, SECRET = "AKEXAMPLE", "a/secret+with=signs"


@pytest.fixture(scope="module")
def endpoint() -> Iterator[str]:
    server = ThreadedMotoServer(ip_address="127.0.0.1", port=0)
    server.start()
    host, port = server.get_host_and_port()
    yield f"http://{host}:{port}"
    server.stop()


@pytest.fixture
def bucket(endpoint: str, settings: Settings, monkeypatch: pytest.MonkeyPatch) -> Any:
    """The store that PHOTOS_URL names, empty."""
    written = SECRET.replace("/", "%2F").replace("+", "%2B").replace("=", "%3D")
    monkeypatch.setenv("PHOTOS_URL", f"s3://{KEY}:{written}@us-east-1/{BUCKET}?endpoint={endpoint}")
    settings.STORAGES = {**settings.STORAGES, "photos": environment.object_store("PHOTOS_URL")}
    made = boto3.resource(
        "s3",
        endpoint_url=endpoint,
        region_name="us-east-1",
        aws_access_key_id=KEY,
        aws_secret_access_key=SECRET,
    ).Bucket(BUCKET)
    made.create()
    yield made
    made.objects.all().delete()
    made.delete()


def test_a_photo_goes_to_the_store_and_is_read_on_the_offices_page(
    world: World, phone: Phone, bucket: Any, office: Client
) -> None:
    data = picture()
    assert put(phone, data).json == {"sha256": name(data), "state": "here"}
    (stored,) = bucket.objects.all()
    assert stored.key == photos.name_of(name(data))
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4(), photos=[name(data)])
    assert push(phone) == ["accepted"]
    shown = office.get(f"/office/photos/{op['id']}/1")
    assert (shown.status_code, shown.headers["Content-Type"]) == (200, "image/jpeg")
    ours = stored.get()["Body"].read()
    assert b"".join(shown) == ours
    assert kept(data).size == (40, 20)


def test_sent_again_it_is_there_once_and_a_lost_or_broken_object_is_written_again(
    phone: Phone, bucket: Any
) -> None:
    data = picture()
    put(phone, data)
    (stored,) = bucket.objects.all()
    whole = stored.get()["Body"].read()
    assert put(phone, data).status == 200
    bucket.put_object(Key=stored.key, Body=whole[:50])
    assert put(phone, data).json["state"] == "here"
    assert photos.read(name(data)) == whole
    stored.delete()
    assert photos.read(name(data)) is None
    assert put(phone, data).json["state"] == "here"
    assert [photo.key for photo in bucket.objects.all()] == [stored.key]


def test_a_phones_sealed_file_lies_there_until_it_is_forgotten(
    world: World, phone: Phone, bucket: Any
) -> None:
    sealed = seal(plain(phone), key_of(phone))
    put(phone, picture())
    put_by = unsent.put_by(sealed)
    assert unsent.kept(put_by) == sealed
    assert unsent.kept("0" * 64) is None
    assert unsent.forget(older_than=clock.now()) in {0, 1}
    assert photos.read(name(picture())) is not None


def test_a_store_that_is_away_is_no_here(enrol: Enrol, bucket: Any, settings: Settings) -> None:
    phone = enrol()
    options = {**settings.STORAGES["photos"]["OPTIONS"], "bucket_name": "nowhere"}
    settings.STORAGES = {
        **settings.STORAGES,
        "photos": {**settings.STORAGES["photos"], "OPTIONS": options},
    }
    assert put(phone, picture()).status == 500
    assert not Photo.objects.exists()


@pytest.mark.parametrize(
    "address",
    ["s3://", "http://a:b@h/c", "s3://key@region/bucket", "s3://a:b@region/", "s3://a:b@r/c/d",
     "s3://a:b@r/c?endpoint=ftp://x"],
)  # fmt: skip
def test_an_address_that_names_no_store_stops_the_start_without_telling_the_secret(
    monkeypatch: pytest.MonkeyPatch, address: str
) -> None:
    monkeypatch.setenv("PHOTOS_URL", address)
    with pytest.raises(ImproperlyConfigured, match="PHOTOS_URL") as told:
        environment.object_store("PHOTOS_URL")
    assert "a:b" not in str(told.value)


def test_an_export_key_is_a_private_rsa_key_or_stops_the_start(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    key = json.dumps({"kty": "RSA", "n": "AQ", "e": "AQAB", "d": "AQ"})
    monkeypatch.setenv("EXPORT_KEY", key)
    assert environment.rsa_jwk("EXPORT_KEY") == key
    for wrong in ("secret", "[]", '{"kty": "RSA", "n": "AQ", "e": "AQAB"}', '{"kty": "EC"}'):
        monkeypatch.setenv("EXPORT_KEY", wrong)
        with pytest.raises(ImproperlyConfigured, match="EXPORT_KEY") as told:
            environment.rsa_jwk("EXPORT_KEY")
        assert wrong not in str(told.value)
    monkeypatch.delenv("EXPORT_KEY")
    assert environment.rsa_jwk("EXPORT_KEY") == ""


def test_storages_are_made_by_the_library(bucket: Any) -> None:
    assert type(storages["photos"]).__module__ == "storages.backends.s3"
