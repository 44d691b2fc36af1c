// Reads iCalendar files with ical.js, which shares no code with ours. A list of
// texts comes as JSON on standard input; each file's events go to standard
// output, as in testdata/python/calendars.py.
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { readFileSync } from "node:fs";

const require = createRequire(process.cwd() + "/"); // the folder it is installed in
const { default: ICAL } = await import(pathToFileURL(require.resolve("ical.js")));

const utc = (seconds) => new Date(seconds * 1000).toISOString().replace(".000Z", "Z");

// A date as it is, a time as its instant.
function told(time) {
  if (time.isDate) return time.toString();
  if (time.zone === ICAL.Timezone.localTimezone) return "floating " + time.toString();
  return utc(time.toUnixTime());
}

function alarm(start, trigger) {
  const seconds = trigger.toSeconds();
  if (!start.isDate) return utc(start.toUnixTime() + seconds);
  return utc(Date.UTC(start.year, start.month - 1, start.day) / 1000 + seconds).replace("Z", "");
}

function events(text) {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents("vevent").map((e) => {
    const value = (name) => e.getFirstPropertyValue(name) ?? "";
    const start = value("dtstart");
    return {
      id: value("x-primaprova-id"),
      uid: value("uid"),
      sequence: value("sequence"),
      status: value("status"),
      stamp: told(value("dtstamp")),
      start: told(start),
      end: told(value("dtend")),
      summary: value("summary"),
      description: value("description"),
      categories: e.getAllProperties("categories").flatMap((p) => p.getValues()).sort(),
      color: value("color"),
      alarms: e.getAllSubcomponents("valarm").map((a) => alarm(start, a.getFirstPropertyValue("trigger"))).sort(),
    };
  });
}

process.stdout.write(JSON.stringify(JSON.parse(readFileSync(0, "utf8")).map(events)));
