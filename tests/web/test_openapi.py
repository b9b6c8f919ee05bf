"""The interface for programs keeps to its own description, whatever is sent to it.

Outside truth: schemathesis makes requests from the OpenAPI description and judges the answers.
"""

import json
import urllib.request

from hypothesis import HealthCheck, Phase, settings
from hypothesis import given as given_of


def description(server):
    with urllib.request.urlopen(f"{server.url}/api/openapi.json") as answer:
        return json.loads(answer.read())


def test_every_way_in_is_described(server):
    paths = description(server)["paths"]
    assert all(path.startswith("/api/") for path in paths)
    assert {"get", "put", "patch", "delete"} <= set(paths["/api/plans/{plan}"])
    for path, ways in paths.items():
        for way in ways.values():
            assert way["summary"], path


def test_no_answer_breaks_the_description(server):
    """Every operation, valid and invalid requests; run longer by hand with `schemathesis run`."""
    # Loaded here: it takes a second, which each worker would spend.
    import schemathesis
    from schemathesis.checks import not_a_server_error
    from schemathesis.specs.openapi import checks

    # What an answer is held to. Left out: that a request of right form must succeed (a plan that
    # is not there is rightly 404), and checks of sign-in, for there is none on the machine itself.
    held = [
        not_a_server_error,
        checks.status_code_conformance,
        checks.content_type_conformance,
        checks.response_headers_conformance,
        checks.response_schema_conformance,
        checks.negative_data_rejection,
    ]
    schema = schemathesis.openapi.from_url(f"{server.url}/api/openapi.json")
    for operation in schema.get_all_operations():
        _hold(operation.ok(), held)


def _hold(operation, held):
    @given_of(case=operation.as_strategy())
    @settings(
        max_examples=12,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    def run(case):
        case.call_and_validate(checks=held)

    run()
