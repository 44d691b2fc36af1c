// The page at the stand begins here: what was kept is shown, then home is asked, and
// asked again.
import { open } from "./keep.js";
import { Sender, localDay } from "./send.js";
import { Clicks, knock } from "./clicks.js";
import { Pad } from "./pad.js";
import * as timers from "./timer.js";
import { page, at, recall, remember, keepShown } from "./hand.js";
import { say, render, tick } from "./look.js";
import { actions, act, found, wake } from "./taps.js";
import { $, text } from "./show.js";

const base = new URL(".", location.href);
const ask = (path, options = {}) => fetch(new URL(path, base), { cache: "no-store", credentials: "omit", signal: AbortSignal.timeout(8000), ...options });

let seenChange = null; // the planning that was told last; null: none since the page was opened

// changed shows what home has answered, or that it has not.
async function changed() {
  page.entries = await at.store.all();
  if (at.sender.state) {
    page.state = at.sender.state;
    page.on = localDay(new Date());
    newer(page.state.version);
    keepShown();
    const number = page.state.changed?.number ?? 0;
    if (seenChange !== null && number > seenChange) say(page.state.changed.lines[0], true);
    seenChange = number;
    await remember();
  }
  render();
}

// newer asks for the page again where home has another one: once.
function newer(version) {
  const own = document.querySelector('meta[name="version"]').content;
  if (version !== own && sessionStorage.getItem("asked") !== version) {
    sessionStorage.setItem("asked", version);
    location.reload();
  }
}

function often() {
  const soon = page.state?.planning || page.entries.some((e) => e.state === "kept");
  setTimeout(async () => {
    if (!document.hidden) await at.sync();
    often();
  }, soon ? 1000 : 4000);
}

async function begin() {
  at.store = await open();
  at.sender = new Sender({ keep: at.store, ask, changed });
  at.sync = () => at.sender.sync();
  at.pad = new Pad({ keep: found });
  await recall();
  for (const name of Object.keys(actions)) $(name).addEventListener("click", () => act(name));
  render();
  if (!("wakeLock" in navigator)) say("Set the display to stay on: over plain http a page can’t.");
  addEventListener("online", at.sync);
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return;
    if (timers.runs(page.timer)) wake(true); // a lock is lost with the sight of the page
    at.sync();
  });
  setInterval(tick, 500);
  await at.sync();
  if (!page.state) text("bars", "No answer from home yet");
  often();
}

begin();

// What is at work, to be looked at: for tests.
globalThis.standPage = { page, at, Clicks, knock, get sender() { return at.sender; }, get store() { return at.store; } };
