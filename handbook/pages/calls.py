"""Telephone numbers as pages say them: "Call the gas company: 555-0177", or that there is none."""

from handbook.answers.whom import Contact
from handbook.pages.content import Call, Line
from handbook.pages.words import capital
from handbook.record.notation import PhoneNumber


def number(phone: PhoneNumber) -> Call:
    """A number that a phone dials when it is touched."""
    return Call(phone.text, phone.tel)


def numbers(contact: Contact) -> Line:
    """The numbers alone, for a table's cell: `555-0142, after hours 555-0143`."""
    if contact.phone is None:
        return ("has none" if contact.none else "not recorded",)
    said: Line = (number(contact.phone),)
    if contact.after_hours and contact.after_hours != contact.phone:
        said += (", after hours ", number(contact.after_hours))
    return said


def call(contact: Contact) -> Line:
    """An action that starts with its verb: `Call 911`, `Call a licensed plumber: 555-0142`."""
    if contact.role == "emergency" and contact.phone:
        return ("Call ", *numbers(contact))
    if contact.role == "emergency":
        return ("Call your local emergency number",)
    if contact.phone is None:
        return (f"Call {contact.called}",)
    return (f"Call {contact.called}: ", *numbers(contact))


def label(contact: Contact) -> str:
    """The role as a label: `Gas company`."""
    return capital(contact.called.removeprefix("the ").removeprefix("a "))
