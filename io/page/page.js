(() => {
  const at = id => document.getElementById(id), two = n => String(n).padStart(2, "0");
  const apart = (from, to) => Math.round((Date.parse(to) - Date.parse(from)) / 864e5);
  const days = n => n + (n === 1 ? " day" : " days");
  const plan = at("plan"), said = plan.textContent;
  let shown = "";
  const turn = () => {
    const n = new Date(), today = n.getFullYear() + "-" + two(n.getMonth() + 1) + "-" + two(n.getDate());
    if (today === shown) return;
    shown = today;
    const old = apart(plan.dataset.on, today);
    plan.textContent = said + (old > 0 ? " That is " + days(old) + " ago: what was recorded or planned since is not on this page." : "");
    document.querySelectorAll("#now, #ahead").forEach(e => e.remove());
    document.querySelectorAll(".today").forEach(e => e.classList.remove("today"));
    const day = at(today);
    if (!day) return;
    day.classList.add("today");
    const week = day.closest("details"), earlier = at("earlier"), weeks = [...document.querySelectorAll("#weeks details[id^=w]")];
    week.open = true;
    weeks.slice(0, weeks.indexOf(week)).forEach(w => { w.open = false; earlier.append(w); });
    at("weeks").append(...weeks.slice(weeks.indexOf(week)));
    earlier.hidden = weeks[0] === week;
    at("to-today").hash = today;
    at("to-week").hash = week.id;
    const now = document.createElement("span"), ahead = document.createElement("p");
    now.id = "now", now.textContent = "Today, ", ahead.id = "ahead";
    day.querySelector("h4").prepend(now);
    const next = [...document.querySelectorAll("tr[data-first]")].filter(r => r.dataset.first >= today)
      .sort((a, b) => a.dataset.first < b.dataset.first ? -1 : 1)[0];
    if (next) {
      const left = apart(today, next.dataset.first), name = document.createElement("bdi");
      name.textContent = next.querySelector("bdi").textContent;
      ahead.append((left ? "In " + days(left) + " the " : "Today is the ") + next.dataset.is + " of ", name, ".");
      day.querySelector("h4").after(ahead);
    }
    if (!location.hash) day.scrollIntoView();
  };
  turn();
  addEventListener("visibilitychange", turn);
})();
