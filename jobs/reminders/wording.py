"""What does a message say to its reader, and under which Message-ID?"""

from uuid import uuid4

from django.conf import settings

from jobs.reminders.models import Rule
from jobs.reminders.subjects import Subject
from jobs.reminders.whom import Recipient
from jobs.reminders.words import filled, in_one_line


def message_of(rule: Rule, subject: Subject, who: Recipient) -> tuple[str, str]:
    """Word a message for its reader: the subject in one line, and the text."""
    words = {**subject.words(who.language), "days": abs(rule.offset_days)}
    spanish = who.language == "es" and rule.text_es
    head = rule.subject_es if spanish else rule.subject
    text = filled(rule.text_es if spanish else rule.text, words)
    line = in_one_line(filled(head or rule.subject, words))
    return line[:1].upper() + line[1:], f"{who.instead}:\n\n{text}" if who.instead else text


def message_id(slug: str, about: str) -> str:
    """Make the Message-ID that every try of one message carries."""
    domain = settings.DEFAULT_FROM_EMAIL.partition("@")[2].rstrip(">") or "example.com"
    return f"<{slug}-{about[:40]}-{uuid4().hex[:12]}@{domain}>"
