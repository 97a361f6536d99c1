// A link of the office carries the key behind its `#`, which no browser sends anywhere: put it into
// the form, take it out of the address and of the history, and send the form.
const field = document.getElementById("key");
const key = decodeURIComponent(location.hash.slice(1));
if (key && field) {
  history.replaceState(null, "", location.pathname);
  field.value = key;
  document.getElementById("enter").requestSubmit();
}
