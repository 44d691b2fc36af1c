// Package ical writes a plan as an iCalendar file (RFC 5545, with the calendar
// properties of RFC 7986), for a calendar to take in or to subscribe to. It
// reads nothing, and it knows of no other format. Instant, the rule by which a
// local time becomes an instant, lives here because it is that RFC's rule.
//
// # Entries
//
// With hours in the season every session is an event with its times; without,
// every day is an all-day entry that lists its sessions in the order of the
// day. Either can be asked for (Options.Entries), or an event for each block,
// from one rest to the next. The kinds have different UIDs: whoever changes
// from one to another begins a new calendar. Rehearsals and concerts are
// written where they are asked for; as a rule the orchestra's own calendar has
// them. Alarms ring for the first session of a block alone.
//
// # The same plan gives the same file
//
// No clock on the wall enters the content. DTSTAMP, which RFC 5545 wants, is
// midnight UTC of the plan's first day and as many seconds later as the entry
// has a sequence: always the same for the same entry, later for a changed one.
// The rules of time zones are the machine's, or Go's own where it has none.
//
// # When one plan takes the place of another
//
// The UID is a name-based UUID (RFC 9562, version 5) of the calendar's key and
// of the session's id or the day, so it stays when a session moves. SEQUENCE,
// and what has to be cancelled, come from the plan (model's Follow). There is
// no METHOD, so that the file can be put on a calendar server as it stands (RFC
// 4791, section 4.1); for want of METHOD:CANCEL a session that is gone is an
// event with STATUS:CANCELLED and a raised SEQUENCE. A work that gets another
// title, or a passage another tempo, changes the text of its entries without raising
// SEQUENCE, which RFC 5546 leaves free: calendars that look at nothing else keep the
// old text.
package ical
