#!/usr/bin/env python3
"""The server under load, beside nginx on the same machine with the same load tool.

    cargo build --release && python3 benches/feeds.py [BINARY]

Needs nginx and wrk (Debian packages of these names). One run prints, in turn and as ratios:
an unchanged feed asked for with its tag (304), the same bytes in whole (200), both against nginx
sending them from a file; then how many live pages hear of a trial, and what memory they take. The
CPU time of rendering a changed feed is measured by `cargo bench --bench feed_render`.
"""

import json
import os
import re
import resource
import selectors
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BINARY = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "target" / "release" / "fairseam"
ROUNDS, SECONDS = 3, 4
PAGES = 1000
NOW = "2027-04-21T13:30:00Z"


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def wait_for(port):
    for _ in range(100):
        try:
            socket.create_connection(("127.0.0.1", port), 1).close()
            return
        except OSError:
            time.sleep(0.1)
    sys.exit(f"nothing listens at port {port}")


def wrk(url, tag=None):
    """Requests a second."""
    header = ["-H", f"If-None-Match: {tag}"] if tag else []
    command = ["wrk", "-t1", "-c32", f"-d{SECONDS}s", *header, url]
    out = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    if not tag and "Non-2xx" in out:
        sys.exit(f"{url} is not answered with the feed:\n{out}")
    return float(re.search(r"Requests/sec:\s+([\d.]+)", out)[1])


def start_nginx(folder, feed):
    port = free_port()
    # Started by root, its workers are nobody in particular: they must be able to read the file.
    folder.chmod(0o755)
    (folder / "www").mkdir()
    (folder / "www" / "feed.ics").write_bytes(feed)
    (folder / "nginx.conf").write_text(f"""
worker_processes auto; daemon off; pid {folder}/nginx.pid; error_log {folder}/error.log;
events {{ worker_connections 1024; }}
http {{
  access_log {folder}/access.log; sendfile on; etag on; keepalive_requests 100000000;
  types {{ text/calendar ics; }}
  client_body_temp_path {folder}/t1; proxy_temp_path {folder}/t2; fastcgi_temp_path {folder}/t3;
  uwsgi_temp_path {folder}/t4; scgi_temp_path {folder}/t5;
  server {{ listen 127.0.0.1:{port}; root {folder}/www; }}
}}
""")
    nginx = shutil.which("nginx") or "/usr/sbin/nginx"
    process = subprocess.Popen([nginx, "-c", str(folder / "nginx.conf"), "-e", str(folder / "error.log")])
    wait_for(port)
    return process, f"http://127.0.0.1:{port}/feed.ics"


def start_server(folder):
    port = free_port()
    environment = {**os.environ, "FAIRSEAM_HOME": str(folder / "home"), "FAIRSEAM_NOW": NOW}
    site = str(ROOT / "config" / "demo" / "site.toml")

    def key(*arguments):
        command = [BINARY, "serve", "--url", f"http://127.0.0.1:{port}", "--holder", "bench", *arguments]
        run = subprocess.run(command, check=True, capture_output=True, text=True, env=environment)
        return run.stdout.strip()

    feed = key("--new-key", site, "--for", "feed")
    crew = key("--new-key", site, "--for", "crew").split("#")[1]
    office = key("--new-key", "--for", "office").split("#")[1]
    command = [BINARY, "serve", site, "--listen", f"127.0.0.1:{port}", "--address-limit", "0",
               "--key-limit", "0"]
    log = open(folder / "server.log", "wb")
    process = subprocess.Popen(command, env=environment, stderr=log)
    wait_for(port)
    return process, port, feed, crew, office


def tag_of(url):
    with urllib.request.urlopen(url) as answer:
        return answer.headers["ETag"], answer.read()


def resident_mib(pid):
    status = Path(f"/proc/{pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024


def live_pages(process, port, feed, crew, office):
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (min(hard, 4096), hard))
    before = resident_mib(process.pid)
    ask = (f"GET /office/events HTTP/1.1\r\nHost: x\r\nCookie: fairseam-key={office}\r\n\r\n").encode()
    pages = {}
    ears = selectors.DefaultSelector()
    for _ in range(PAGES):
        page = socket.create_connection(("127.0.0.1", port), 10)
        page.sendall(ask)
        page.setblocking(False)
        pages[page] = b""
        ears.register(page, selectors.EVENT_READ)

    def hear(until, seconds):
        end = time.monotonic() + seconds
        while time.monotonic() < end and not all(until(text) for text in pages.values()):
            for ready, _ in ears.select(0.2):
                pages[ready.fileobj] += ready.fileobj.recv(65536)
        return sum(1 for text in pages.values() if until(text))

    is_open = lambda text: b"event: book" in text and b"event: plan" in text
    opened = hear(is_open, 30)
    for page in pages:
        pages[page] = b""
    site = feed.split("/feeds/")[1].split("/")[0]
    strip = {"width": 1.5, "parted": "film-tear"}
    trial = {"sent_id": "6f1c2e0a-9d3b-4a57-8a31-0c5d2f6b7e84", "who": "bench", "air": 55, "speed": 8,
             "welder": "automatic 1", "at": "2027-04-21T08:05:00-05:00",
             "heats": [{"heat": heat, "strips": [strip] * 3} for heat in (800, 900)]}
    post = urllib.request.Request(
        f"http://127.0.0.1:{port}/crew/{site}/trials", json.dumps(trial).encode(),
        {"Content-Type": "application/json", "Cookie": f"fairseam-key={crew}"})
    started = time.perf_counter()
    urllib.request.urlopen(post).read()
    heard = hear(lambda text: b"event: book" in text, 30)
    took = time.perf_counter() - started
    print(f"live pages: {opened} open, {heard} heard of a trial within {took:.2f} s; "
          f"resident {before:.1f} MiB before, {resident_mib(process.pid):.1f} MiB with them (bar: 150)")
    for page in pages:
        page.close()


def main():
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        server, port, feed, crew, office = start_server(folder)
        nginx = None
        try:
            tag, body = tag_of(feed)
            nginx, file = start_nginx(folder, body)
            file_tag, same = tag_of(file)
            assert same == body
            print(f"the feed has {len(body)} bytes; {os.cpu_count()} cores, load tool on the same ones")
            for name, tags in (("with its tag (304)", (tag, file_tag)), ("in whole (200)", (None, None))):
                ours, theirs = [], []
                for _ in range(ROUNDS):
                    ours.append(wrk(feed, tags[0]))
                    theirs.append(wrk(file, tags[1]))
                ratios = [one / other for one, other in zip(ours, theirs)]
                print(f"{name}: fairseam {statistics.median(ours):,.0f}/s, nginx "
                      f"{statistics.median(theirs):,.0f}/s, ratio {statistics.median(ratios):.2f} "
                      f"({min(ratios):.2f} to {max(ratios):.2f}; bar for 304: 0.50)")
            live_pages(server, port, feed, crew, office)
        finally:
            for process in filter(None, (nginx, server)):
                process.terminate()
                process.wait()


if __name__ == "__main__":
    main()
