// Package calendar reads iCalendar files that other programs wrote (RFC 5545)
// and says what happens when: recurrences, exceptions, changed instances,
// cancelled and transparent entries, time zones known, foreign and described
// in the file itself. It knows nothing of seasons, and it writes nothing;
// io/ical writes.
//
// Lines are read here and not by a library because a fault has to name its
// line, and because a file of any size must neither fill the memory nor be
// taken for whole when it is cut off. Rules are expanded here because
// rrule-go 1.8.2, with which the tests compare the answers, does not end on
// FREQ=HOURLY;INTERVAL=24;BYHOUR=5 from nine o'clock on, nor on
// FREQ=MINUTELY;INTERVAL=60;BYMINUTE=5; refuses RSCALE and SKIP (RFC 7529) and
// BYSECOND=60; takes COUNT=-1 and INTERVAL=0; gives BYHOUR=9,9 twice; does not
// count a DTSTART that the rule does not hold; and goes through every time
// since DTSTART, with nothing that says how much work that may be.
//
// # Where the RFC leaves a choice
//
//   - DTSTART is the first occurrence even where the rule does not hold it
//     (3.8.5.3 excludes one by EXDATE in its example of Friday the 13th).
//   - A local time that never happens is read with the offset before the gap,
//     in recurrences as well (3.3.5 and the end of 3.3.10).
//   - DTEND gives every occurrence the same exact length, DURATION the same
//     nominal one (3.8.5.3).
//   - A zone that has an IANA name is taken from the IANA database, even where
//     the file describes it: descriptions in files are often cut short. Other
//     names mean what the file says they mean, then what Windows means by them.
//   - Descriptions are read only where they are needed; a faulty one whose zone is
//     known otherwise is nobody's concern.
//   - Times without a zone are the reader's local times (3.3.5), whatever
//     X-WR-TIMEZONE says, which is no part of the RFC.
//   - Of two entries with the same UID (and RECURRENCE-ID) the higher SEQUENCE
//     counts (RFC 5546, 2.1.4). With the same SEQUENCE two masters both stand,
//     since programs that give every entry one UID are not rare.
//   - A changed instance of which its series knows nothing happens all the same.
package calendar
