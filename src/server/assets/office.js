// Keeps a page current: hears what has changed and fetches the page's own content anew. What is
// shown is made by the server; nothing is decided here.
const content = document.getElementById("content");
const line = document.getElementById("live");
const roof = content?.dataset.live ?? "";
const versions = new Map();
let fetching = false;
let again = false;

function say(text) {
  // Said once, not at every event: a screen reader would read each of them out.
  if (line && line.textContent !== text) line.textContent = text;
}

async function renew() {
  if (fetching) {
    again = true;
    return;
  }
  fetching = true;
  do {
    again = false;
    try {
      const answer = await fetch(location.href, { credentials: "same-origin", redirect: "manual" });
      if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) {
        location.assign("/enter");
        return;
      }
      if (answer.ok) show(await answer.text());
    } catch {
      say("Not current: the server cannot be reached.");
    }
  } while (again);
  fetching = false;
}

function show(html) {
  const fresh = new DOMParser().parseFromString(html, "text/html").getElementById("content");
  if (!fresh) return;
  // Whoever follows a link with the keyboard stays where they are.
  const at = document.activeElement?.getAttribute("href");
  const open = [...content.querySelectorAll("details[open]")].map((one) => one.id);
  content.replaceChildren(...fresh.childNodes);
  for (const id of open) if (id) document.getElementById(id)?.setAttribute("open", "");
  if (at) content.querySelector(`a[href="${CSS.escape(at)}"]`)?.focus({ preventScroll: true });
}

function heard(event) {
  const { site, version } = JSON.parse(event.data);
  if (roof !== "*" && roof !== site) return;
  const key = `${event.type} ${site}`;
  const known = versions.get(key);
  versions.set(key, version);
  // The first versions are those of the page itself, unless it was away meanwhile.
  if (known !== undefined && known !== version) renew();
}

if (content && roof) {
  const source = new EventSource("/office/events");
  let wasLost = false;
  source.addEventListener("open", () => {
    say("Live");
    if (wasLost) renew();
    wasLost = false;
  });
  source.addEventListener("error", () => {
    wasLost = true;
    say("Not current: trying to reach the server.");
    // A browser gives up for good over an answer that is no stream: the key may have gone.
    if (source.readyState === EventSource.CLOSED) setTimeout(() => location.reload(), 30000);
  });
  source.addEventListener("plan", heard);
  source.addEventListener("book", heard);
  // Shown again after a while in the background: catch up before anybody reads it.
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden && wasLost) renew();
  });
}
