"""Reads an iCalendar file with python3-icalendar, checks what RFC 5545 asks of its bytes, and prints its events as JSON."""
import json
import sys

from icalendar import Calendar


def fail(sentence):
    print(sentence, file=sys.stderr)
    sys.exit(1)


with open(sys.argv[1], "rb") as file:
    data = file.read()

if not data.endswith(b"\r\n"):
    fail("The last line does not end in CRLF.")
for number, line in enumerate(data[:-2].split(b"\r\n"), 1):
    if b"\r" in line or b"\n" in line:
        fail(f"Line {number} ends in a bare CR or LF.")
    if len(line) > 75:
        fail(f"Line {number} has {len(line)} octets, more than 75.")
    line.decode("utf-8")

calendar = Calendar.from_ical(data.decode("utf-8"))
for name in ("PRODID", "VERSION"):
    if name not in calendar:
        fail(f"The calendar has no {name}.")

events = []
for event in calendar.walk("VEVENT"):
    for name in ("UID", "DTSTAMP", "DTSTART"):
        if name not in event or isinstance(event[name], list):
            fail(f"An event has no {name}, or two.")
    events.append({
        "uid": str(event["UID"]),
        "sequence": int(event["SEQUENCE"]),
        "status": str(event["STATUS"]),
        "stamp": event["DTSTAMP"].dt.isoformat(),
        "start": event["DTSTART"].dt.isoformat(),
        "end": event["DTEND"].dt.isoformat(),
        "summary": str(event["SUMMARY"]),
        "description": str(event["DESCRIPTION"]),
        "location": str(event["LOCATION"]),
    })
json.dump(events, sys.stdout)
