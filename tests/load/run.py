#!/usr/bin/env python3
"""Sustained mixed load on `fairseam serve`, then memory, descriptors and latency beside the start.

    cargo build && python3 tests/load/run.py [--binary target/debug/fairseam] [--seconds 30]

Python's standard library alone, loopback only, a data folder of its own. Eight clients at once ask as
fast as they are answered: feeds with and without their tag, the crew's and the office's pages, the
day as JSON, trials (most of them sent again, as phones do), live pages that open and go away without
a word, wrong keys, connections that say nothing. It fails when an answer is another than expected, a
descriptor is left over, memory has grown by more than MOST_GROWTH, answers take more than
SLOWER times as long as before, the book is not whole, or a trial was lost or booked twice.
"""

import argparse
import http.client
import json
import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
NOW = "2027-04-21T13:30:00Z"
# The first load fills pools and caches; from then on the server is to stay as it is.
WARM_UP = 5.0
# Connections to the book and threads that wait for work come and go; a leak goes on and on.
SPARE_DESCRIPTORS = 4
# New trials are held in memory, some kilobytes each; the allocator keeps what it had at its peak.
MOST_GROWTH_MIB = 24.0
SLOWER, ALLOWANCE_MS = 2.0, 5.0
PROBES = 200


class Server:
    def __init__(self, binary, folder):
        self.binary, self.folder = binary, folder
        self.environment = {"FAIRSEAM_HOME": str(folder / "home"), "FAIRSEAM_NOW": NOW}
        self.site_file = str(ROOT / "config" / "demo" / "site.toml")
        feed = self.key("--new-key", self.site_file, "--for", "feed")
        self.feed = "/feeds/" + feed.split("/feeds/")[1]
        self.site = self.feed.split("/")[2]
        self.crew = self.key("--new-key", self.site_file, "--for", "crew").split("#")[1]
        self.office = self.key("--new-key", "--for", "office").split("#")[1]
        command = [binary, "serve", self.site_file, "--listen", "127.0.0.1:0", "--address-limit", "0",
                   "--key-limit", "0"]
        self.log = open(folder / "server.log", "w+")
        self.process = subprocess.Popen(command, env=self.environment, stderr=self.log)
        self.port = self.wait_for_port()

    def run(self, *arguments):
        done = subprocess.run([self.binary, *arguments], capture_output=True, text=True,
                              env=self.environment)
        if done.returncode != 0:
            sys.exit(f"{arguments}: {done.stderr}")
        return done.stdout.strip()

    def key(self, *arguments):
        return self.run("serve", "--holder", "load", *arguments)

    def wait_for_port(self):
        for _ in range(300):
            found = re.search(r"://127\.0\.0\.1:(\d+)/", (self.folder / "server.log").read_text())
            if found:
                return int(found[1])
            time.sleep(0.1)
        sys.exit("the server does not start")

    def resident_mib(self):
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024

    def descriptors(self):
        return len(os.listdir(f"/proc/{self.process.pid}/fd"))

    def end(self):
        if self.process.poll() is None:
            self.process.terminate()
            self.process.wait(30)
        return self.process.returncode


class Client(threading.Thread):
    """Asks in its own order until it is told to stop."""

    sent = set()
    lock = threading.Lock()

    def __init__(self, server, number, until):
        super().__init__()
        self.server, self.number, self.until = server, number, until
        self.connection, self.tag = None, None
        self.answers, self.wrong = Counter(), []

    def ask(self, method, path, expected, key=None, body=None, **headers):
        headers = {name.replace("_", "-"): value for name, value in headers.items()}
        if key:
            headers["Cookie"] = f"fairseam-key={key}"
        if self.connection is None:
            self.connection = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=30)
        self.connection.request(method, path, body, headers)
        answer = self.connection.getresponse()
        text = answer.read()
        self.answers[f"{method} {path.split('/')[1]} {answer.status}"] += 1
        if answer.status not in expected:
            self.wrong.append(f"{method} {path}: {answer.status} {text[:200]!r}")
        if answer.will_close:
            self.connection.close()
            self.connection = None
        return answer

    def feed(self):
        self.tag = self.ask("GET", self.server.feed, [200]).headers["ETag"]

    def unchanged_feed(self):
        if self.tag is None:
            self.feed()
        self.ask("GET", self.server.feed, [200, 304], If_None_Match=self.tag)

    def pages(self):
        site = self.server.site
        self.ask("GET", f"/crew/{site}/", [200], self.server.crew)
        self.ask("GET", f"/crew/{site}/day.json", [200], self.server.crew)
        self.ask("GET", "/office/", [200], self.server.office)

    def trial(self, turn):
        # One in eight is new, the others have been sent before.
        number = turn // 8
        name = f"6f1c2e0a-9d3b-4a57-8a31-{self.number:04x}{number:08x}"
        strip = {"width": 1.5, "parted": "film-tear"}
        trial = {"sent_id": name, "who": "load", "air": 55, "speed": 8, "welder": "automatic 1",
                 "at": "2027-04-21T08:05:00-05:00",
                 "heats": [{"heat": heat, "strips": [strip] * 3} for heat in (800, 900)]}
        self.ask("POST", f"/crew/{self.server.site}/trials", [200, 201], self.server.crew,
                 json.dumps(trial), Content_Type="application/json")
        with self.lock:
            self.sent.add(name)

    def live_page(self):
        with socket.create_connection(("127.0.0.1", self.server.port), 30) as page:
            page.sendall(f"GET /crew/{self.server.site}/events HTTP/1.1\r\nHost: x\r\n"
                         f"Cookie: fairseam-key={self.server.crew}\r\n\r\n".encode())
            if b" 200 " not in page.recv(4096):
                self.wrong.append("a live page was not opened")
            self.answers["live page"] += 1

    def wrong_keys(self, turn):
        key = f"{turn:052d}"
        self.ask("GET", f"/crew/{self.server.site}/day.json", [401, 403, 404, 429], key)
        self.ask("GET", f"/feeds/{self.server.site}/{key}.ics", [401, 403, 404, 429])

    def silent(self):
        socket.create_connection(("127.0.0.1", self.server.port), 30).close()
        self.answers["silence"] += 1

    def run(self):
        first = int(time.monotonic() * 1000) % 100_000_000 // 8 * 8
        turn = first
        try:
            while time.monotonic() < self.until:
                self.feed()
                for _ in range(4):
                    self.unchanged_feed()
                self.pages()
                self.trial(turn)
                self.live_page()
                self.wrong_keys(turn)
                self.silent()
                turn += 1
        except OSError as error:
            self.wrong.append(f"client {self.number}: {error!r}")
        finally:
            if self.connection:
                self.connection.close()


def load(server, seconds, first):
    until = time.monotonic() + seconds
    clients = [Client(server, first + number, until) for number in range(8)]
    for client in clients:
        client.start()
    for client in clients:
        client.join()
    answers = sum((client.answers for client in clients), Counter())
    return answers, [wrong for client in clients for wrong in client.wrong]


def measure(server):
    """Once all clients have gone: what the server holds, and how long it takes to answer."""
    time.sleep(2)
    probe = Client(server, 0, 0)
    took = []
    for _ in range(PROBES):
        started = time.perf_counter()
        probe.ask("GET", f"/crew/{server.site}/day.json", [200], server.crew)
        took.append((time.perf_counter() - started) * 1000)
    if probe.connection:
        probe.connection.close()
    if probe.wrong:
        sys.exit(f"not answered: {probe.wrong[0]}")
    time.sleep(1)
    took.sort()
    return server.descriptors(), server.resident_mib(), statistics.median(took), took[-PROBES // 20]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--binary", default=str(ROOT / "target" / "debug" / "fairseam"))
    parser.add_argument("--seconds", type=float, default=30.0)
    arguments = parser.parse_args()
    faults = []
    with tempfile.TemporaryDirectory() as folder:
        server = Server(arguments.binary, Path(folder))
        try:
            _, wrong = load(server, WARM_UP, 0)
            faults += wrong
            before = measure(server)
            started = time.monotonic()
            answers, wrong = load(server, arguments.seconds, 8)
            took = time.monotonic() - started
            faults += wrong
            after = measure(server)
        finally:
            code = server.end()
        verified = server.run("book", server.site_file, "--verify")
    print(f"{sum(answers.values())} answers in {took:.0f} s, {sum(answers.values()) / took:.0f} a second")
    for name, count in sorted(answers.items()):
        print(f"  {count:7} {name}")
    for (name, form), one, other in zip(
            (("descriptors", "d"), ("resident MiB", ".1f"), ("day.json, median ms", ".2f"),
             ("day.json, 95 of 100 ms", ".2f")), before, after):
        print(f"{name}: {one:{form}} before, {other:{form}} after")
    print(verified)
    if code != 0:
        faults.append(f"the server ended with {code}")
    if after[0] > before[0] + SPARE_DESCRIPTORS:
        faults.append(f"descriptors are left over: {before[0]}, then {after[0]}")
    if after[1] > before[1] + MOST_GROWTH_MIB:
        faults.append(f"memory has grown by more than {MOST_GROWTH_MIB} MiB")
    for name, one, other in (("median", before[2], after[2]), ("95 of 100", before[3], after[3])):
        if other > SLOWER * one + ALLOWANCE_MS:
            faults.append(f"answers take longer ({name}): {one:.2f} ms, then {other:.2f} ms")
    booked = re.match(r"the book is whole: (\d+) entr", verified)
    if not booked or int(booked[1]) != len(Client.sent):
        faults.append(f"{len(Client.sent)} trials were sent: {verified}")
    for fault in faults[:20]:
        print(f"FAULT: {fault}")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
