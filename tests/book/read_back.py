"""Reads a test-weld book without fairseam: Python's own sqlite3, json, csv and hashlib.

Arguments: database, JSON Lines export, CSV export. Prints what it found as JSON. The recipe of the
hash is that of docs/book.md.
"""
import csv
import hashlib
import json
import sqlite3
import sys

FIELDS = ("previous_hash", "sequence", "kind", "site_key", "site", "recorded_at", "recorded_by",
          "supersedes", "because", "payload")


def seal(entry):
    digest = hashlib.sha256(b"fairseam test-weld book, entry, format 1\n")
    for field in FIELDS:
        value = entry[field]
        text = b"" if value is None else str(value).encode()
        digest.update(len(text).to_bytes(8, "big") + text)
    return digest.hexdigest()


def chain_holds(entries):
    last = "0" * 64
    for number, entry in enumerate(entries, start=1):
        if entry["sequence"] != number or entry["previous_hash"] != last or seal(entry) != entry["hash"]:
            return False
        last = entry["hash"]
    return True


def payload_text(line):
    """The payload exactly as it stands in the line: a hash covers characters, not values."""
    start = line.index('"payload":') + len('"payload":')
    _, length = json.JSONDecoder().raw_decode(line[start:])
    return line[start:start + length]


database, lines, table = sys.argv[1:]
connection = sqlite3.connect(f"file:{database}?mode=ro", uri=True)
connection.row_factory = sqlite3.Row
in_database = [dict(row) for row in connection.execute("SELECT * FROM entry ORDER BY sequence")]
with open(lines, encoding="utf-8", newline="\n") as file:
    first, *rest = [line for line in file.read().split("\n") if line]
in_lines = [{**json.loads(line), "payload": payload_text(line)} for line in rest]
with open(table, encoding="utf-8", newline="") as file:
    rows = list(csv.DictReader(file))
print(json.dumps({
    "database_holds": chain_holds(in_database),
    "lines_hold": chain_holds(in_lines),
    "same": in_database == in_lines,
    "announced": json.loads(first)["entries"],
    "entries": len(in_database),
    "rows": len(rows),
    "who": sorted({row["who"] for row in rows}),
    "widths_mm": [float(row["bond_width_mm"]) for row in rows if row["bond_width_mm"]],
    "journal": connection.execute("PRAGMA journal_mode").fetchone()[0],
    "integrity": connection.execute("PRAGMA integrity_check").fetchone()[0],
}))
