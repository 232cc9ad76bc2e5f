"""Each question at its own address: asked, answered, kept nowhere."""

from typing import Any

from drf_spectacular.utils import OpenApiExample, extend_schema, extend_schema_view
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.api.callers import EVERYONE
from contractor.api.desk import Desk, Show
from contractor.api.inputs import inputs_checked
from contractor.api.problems import Problem
from contractor.api.views import Room
from fitcheck.checks.desk_questions import answer_show, told_in_tables
from fitcheck.checks.question import Question


class QuestionView(Room):
    """One question; nothing that is posted here is kept."""

    question: Question
    keeps_nothing = True
    scope = ""
    roles = {"create": EVERYONE}
    pagination_class = None
    http_method_names = ["post", "options"]

    def create(self, request: Request) -> Response:
        """Answer; 200, nothing is made."""
        with inputs_checked():
            return Response(self.question.ask(object_of(request.data)))

    def desk_show(self, row: Any) -> Show:
        """Show an answer as banner, pictures and tables."""
        return answer_show(self.question, self.request.data, row) if row else Show()


def view_of(question: Question) -> type[QuestionView]:
    """Make the view that serves one question."""
    example = OpenApiExample("A worked example", value=question.example, request_only=True)
    described = extend_schema(
        request=question.asks,
        responses={200: question.tells},
        operation_id=f"checks_{question.address.replace('-', '_')}",
        summary=question.title,
        description=f"{question.says} Nothing is kept.",
        examples=[example],
    )
    members = {
        "__doc__": question.says,
        "question": question,
        "name": question.title,
        "serializer_class": question.asks,
        "desk": Desk(
            add="Ask",
            form=False,
            hides=told_in_tables(question),
            example=lambda: question.example,
        ),
    }
    made = type(
        f"{question.tells.__name__.removesuffix('AnswerSerializer')}View", (QuestionView,), members
    )
    view: type[QuestionView] = extend_schema_view(create=described)(made)
    return view


def object_of(data: Any) -> dict[str, Any]:
    """Read a body that must be one JSON object."""
    if isinstance(data, dict) and not hasattr(data, "getlist"):
        return dict(data)
    raise Problem("not_an_object", "Send one JSON object.", hint="See the schema's example.")
