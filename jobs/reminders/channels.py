"""How does a message leave the house? One function per channel, named by dotted path in the settings.

A channel takes `to, subject, text, message_id`, all by name; it returns when the message is out of our
hands, raises InDoubt when that cannot be told, and anything else when it surely is not.
"""

import logging
from collections.abc import Callable
from smtplib import SMTPRecipientsRefused, SMTPResponseException
from typing import Any

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.utils.module_loading import import_string

log = logging.getLogger(__name__)


class InDoubt(Exception):
    """The message may be out of our hands or not; nobody may just send it again."""


class NoSuchChannel(Exception):
    """No function is set for this channel."""


def channel_of(name: str) -> Callable[..., Any]:
    """Find a channel's function.

    Raises:
        NoSuchChannel: none is set; the text says where to set it.
    """
    path = settings.MESSAGE_CHANNELS.get(name)
    if not path:
        raise NoSuchChannel(f"No channel is set for {name!r}: see MESSAGE_CHANNELS.")
    found: Callable[..., Any] = import_string(path)
    return found


def email(*, to: str, subject: str, text: str, message_id: str) -> None:
    """Send by mail; the Message-ID was made with the row, so that a second copy can be told.

    Raises:
        InDoubt: the line broke while the message was on its way.
    """
    message = EmailMessage(subject, text, to=[to], headers={"Message-ID": message_id})
    connection = get_connection()
    connection.open()
    try:
        connection.send_messages([message])
    except (SMTPResponseException, SMTPRecipientsRefused):
        raise  # the server said no
    except Exception as error:
        raise InDoubt(str(error) or type(error).__name__) from error
    finally:
        connection.close()


def log_line(*, to: str, subject: str, text: str, message_id: str) -> None:
    """Write one line to the service's log and nothing else."""
    log.info("Message %s to %s: %s", message_id, to, subject)
