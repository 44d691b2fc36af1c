// Package stand serves one page on the local network for the phone on the music
// stand: what is at hand today, a timer, a metronome, and what is ticked off. Who
// knows the path may read and add; everybody else meets a 404.
//
// The page works on without the server. What is tapped is kept on the phone under an
// id of its own (page/keep.js) and sent until it is answered; what becomes of it in
// the record is model.Merge's matter, by the rule of docs/meaning.md, section 7.5:
// each tap counts once, however often and in whatever order it comes in, and of words
// that did not know of each other the more careful one counts.
//
// Over plain HTTP, the default, browsers give a page no service worker, no wake lock
// and no audio worklet; IndexedDB and an audio clock they give. So it needs none of
// the former, and says that the display has to stay on. Over TLS, with a root certificate of
// the player's own (trust.go), it keeps the display on itself.
//
// Nothing here reads or writes a season's files: a Desk does.
package stand
