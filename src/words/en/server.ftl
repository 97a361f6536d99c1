### What the server says to whoever is at its door: crew, office, calendar programs.

server-no-key = a key is needed here: enter it first
server-wrong-key = this key is not known: check it, or ask the office for a new one
server-expired-key = this key has expired: ask the office for a new one
server-revoked-key = this key was taken back: ask the office for a new one
server-not-yours = this key does not open that: enter the one that does
server-feed-key = this key opens a calendar and no page
server-elsewhere = this was not sent from a page of this server
server-not-found = there is nothing at this address
server-no-such-site = this site is not served here: ask the office
server-wrong-method = that cannot be done at this address
server-too-often = too many requests: wait a minute, then try again
server-too-slow = this took too long: send it again
server-too-large = what was sent is too long: expected at most { $most } bytes
server-broke-off = what was sent broke off: send it again
server-wrong-kind = expected JSON (Content-Type: application/json)
server-not-text = expected UTF-8 text, found other bytes
server-busy = too many pages are open: try again later
server-not-yet = there is nothing to show of this site yet: try again in a minute
server-inside = something went wrong here, and the server’s log says what: try again later

server-problem-title = That did not work
server-enter-title = Enter
server-enter-key = Key
server-enter-button = Enter
server-enter-who-has-it = The office has your key.
server-enter-link = Enter a key
