// Three small aids; every page can be read, and every task form but a change sent, without them.
"use strict";

// 1. Rows are looked up by their words while somebody types; never a list of everything.
let waiting;
document.addEventListener("input", (event) => {
  const box = event.target.closest("[data-search]");
  if (!box) return;
  clearTimeout(waiting);
  waiting = setTimeout(() => suggest(box), 200);
});

async function suggest(box) {
  const words = box.value.trim();
  const list = document.getElementById(box.getAttribute("list"));
  if (words.length < 2 || [...list.options].some((one) => one.value === words)) return;
  const query = new URLSearchParams({ q: words, brief: "true", limit: "12" });
  const answer = await fetch(`${box.dataset.search}?${query}`, { headers: { Accept: "application/json" } });
  if (!answer.ok) return;
  const rows = (await answer.json()).results;
  list.replaceChildren(...rows.map((row) => {
    const option = document.createElement("option");
    option.value = row.id || row.slug;
    option.label = `${option.value} ${row.summary || row.name || row.local || ""}`;
    return option;
  }));
}

// 2. A change goes as PATCH and a body as JSON, both with the version seen and the request's key.
document.addEventListener("submit", (event) => {
  const form = event.target;
  for (const box of form.querySelectorAll("[data-leave-out-when-empty]")) box.disabled = !box.value.trim();
  if (form.dataset.method !== "PATCH" && !("json" in form.dataset)) return;
  event.preventDefault();
  send(form);
});

const here = () => window.location.pathname + window.location.search;
let shown = here();

async function send(form) {
  const button = form.querySelector("button");
  const raw = form.querySelector("[name=_content]");
  const hidden = (name) => form.elements[name] ? form.elements[name].value : "";
  const headers = { Accept: "text/html", "X-CSRFToken": hidden("csrfmiddlewaretoken") };
  if (hidden("_version")) headers["If-Match"] = `"${hidden("_version")}"`;
  if (raw) {
    headers["Idempotency-Key"] = hidden("_idempotency_key");
    headers["Content-Type"] = form.dataset.method === "PATCH" ? "application/merge-patch+json" : "application/json";
  }
  button.disabled = true;
  try {
    const body = raw ? raw.value : new FormData(form);
    const answer = await fetch(form.action, { method: form.dataset.method, headers, body });
    if (answer.redirected) history.pushState({}, "", answer.url);
    shown = here();
    show(await answer.text(), raw);
  } catch (error) {
    window.alert("The service did not answer. Nothing is known to be written; send it again.");
  } finally {
    button.disabled = false;
  }
}

function show(text, raw) {
  const page = new DOMParser().parseFromString(text, "text/html");
  if (page.querySelector("meta[http-equiv=refresh]")) return window.location.reload();
  document.title = page.title;
  document.body.replaceWith(page.body);
  const again = raw && document.getElementById("refusal") && document.getElementById(raw.id);
  if (again) {
    again.value = raw.value;
    again.closest("details").open = true;
  }
  window.scrollTo(0, 0);
  lead();
}

// The way back to a page that was left by a change; a link within the page is not one.
window.addEventListener("popstate", () => {
  if (here() !== shown) window.location.reload();
});

// 3. After a refusal, reading starts at what was refused.
function lead() {
  const refusal = document.getElementById("refusal");
  if (refusal) refusal.focus();
}
lead();
