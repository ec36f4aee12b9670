#!/usr/bin/env python3
"""Checks iCalendar files with a parser that is not ours (PyPI: icalendar), and by RFC 5545 directly.

    python3 tests/pages/check_calendar.py DIR_OR_FILE...

A folder stands for its day-sheet.ics; the day-sheet.csv beside it tells what must be in it. Ends with status 1 and a
line for each fault.
"""

import csv
import datetime
import pathlib
import sys

from icalendar import Calendar


def faults_of_bytes(raw):
    """What the text itself must keep: section 3.1 of the RFC."""
    if not raw.endswith(b"\r\n"):
        yield "the last line is not ended"
    for number, line in enumerate(raw.split(b"\r\n"), 1):
        if b"\n" in line or b"\r" in line:
            yield f"line {number} is ended otherwise than by CR and LF"
        if len(line) > 75:
            yield f"line {number} has {len(line)} octets"
        try:
            line.decode("utf-8")
        except UnicodeDecodeError:
            yield f"line {number} is cut within a letter"


def faults_of_entry(event):
    for key in ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION"):
        if key not in event:
            yield f"an entry has no {key}"
            return
    start, end = event["DTSTART"].dt, event["DTEND"].dt
    name = f"the entry of {start}"
    if not isinstance(start, datetime.datetime) or start.tzinfo is not None or end.tzinfo is not None:
        yield f"{name} does not float: its times must be local, without a zone"
        return
    if event["DTSTAMP"].dt.tzinfo is None:
        yield f"{name} has a DTSTAMP that is not in UTC"
    if end <= start:
        yield f"{name} ends before it begins"
    alarms = [c for c in event.subcomponents if c.name == "VALARM"]
    if not alarms:
        yield f"{name} has no alarm"
    for alarm in alarms:
        if str(alarm.get("ACTION")) != "DISPLAY" or not str(alarm.get("DESCRIPTION", "")):
            yield f"{name} has an alarm that shows nothing"
        offset = alarm["TRIGGER"].dt
        if not isinstance(offset, datetime.timedelta) or not datetime.timedelta(0) <= offset <= end - start:
            yield f"{name} has an alarm outside of it: {offset}"


def wanted(path):
    """Actions of the sheet: when, what, which caution."""
    with open(path, newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if row["what"] in ("do", "must not wait"):
                at = datetime.datetime.fromisoformat(f"{row['date']}T{row['time']}")
                yield at, row["task"], row["caution"]


def check(path):
    raw = path.read_bytes()
    yield from faults_of_bytes(raw)
    calendar = Calendar.from_ical(raw)
    if str(calendar.get("VERSION")) != "2.0" or "PRODID" not in calendar:
        yield "VERSION 2.0 or PRODID is missing"
    events = [c for c in calendar.walk("VEVENT")]
    if not events:
        yield "there is no entry"
    uids = [str(e.get("UID")) for e in events]
    if len(set(uids)) != len(uids):
        yield "a UID stands twice"
    for event in events:
        yield from faults_of_entry(event)
    sheet = path.with_name("day-sheet.csv")
    if not sheet.exists():
        return
    alarms = {}
    for event in events:
        for alarm in event.subcomponents:
            if alarm.name == "VALARM":
                at = event["DTSTART"].dt + alarm["TRIGGER"].dt
                alarms.setdefault(at, []).append(str(alarm["DESCRIPTION"]))
    count = 0
    for at, deed, caution in wanted(sheet):
        count += 1
        told = [text for text in alarms.get(at, []) if deed in text]
        if not told:
            yield f"{at}: no alarm for `{deed}`"
        elif caution and not any(caution in text for text in told):
            yield f"{at}: `{deed}` lacks its caution"
    if count != sum(len(all_) for all_ in alarms.values()):
        yield "there are other alarms than actions on the sheet"


def main(names):
    paths = [pathlib.Path(n) for n in names]
    paths = [p / "day-sheet.ics" if p.is_dir() else p for p in paths]
    if not paths:
        sys.exit(__doc__)
    bad = 0
    for path in paths:
        faults = list(check(path))
        for fault in faults:
            print(f"{path}: {fault}")
        bad += bool(faults)
        if not faults:
            print(f"{path}: sound")
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main(sys.argv[1:])
