// The metronome. A click is put on the audio clock ahead of its time, so that it sounds
// where it belongs whatever else the phone does; a timer only looks, many times in the
// time that lies ahead, what has to be put there next. The n-th click since the tempo was
// set lies at begin + n * 60 / tempo: nothing adds up.

const LOOK = 25; // ms between looks
const AHEAD = 0.3; // s
const NEAR = 0.02; // s: what is nearer than this might sound late, and is left out
const AHEAD_HIDDEN = 2.2; // s: a page that is not seen is looked after once a second only

export class Clicks {
  // sound(at) makes a click at a time of the audio clock, and gives what can be stopped.
  constructor({ audio, sound, every = (f, ms) => setInterval(f, ms), clear = (id) => clearInterval(id), hidden = () => false }) {
    Object.assign(this, { audio, sound, every, clear, hidden });
    this.looking = null;
    this.pending = [];
    this.tempo = 0;
  }

  get on() { return this.looking !== null; }

  start(tempo) {
    this.stop();
    if (!(tempo > 0)) return;
    this.tempo = tempo;
    this.begin = this.audio.currentTime + 0.06;
    this.n = 0;
    this.looking = this.every(() => this.look(), LOOK);
    this.look();
  }

  // set goes on in another tempo from the next click on.
  set(tempo) {
    if (!this.on || !(tempo > 0) || tempo === this.tempo) return;
    const next = this.begin + this.n * 60 / this.tempo;
    this.begin = next;
    this.n = 0;
    this.tempo = tempo;
  }

  stop() {
    if (this.on) this.clear(this.looking);
    this.looking = null;
    for (const p of this.pending) if (p.at > this.audio.currentTime) p.click.stop();
    this.pending = [];
  }

  look() {
    const now = this.audio.currentTime;
    const until = now + (this.hidden() ? AHEAD_HIDDEN : AHEAD);
    this.pending = this.pending.filter((p) => p.at > now - 1);
    for (;;) {
      const at = this.begin + this.n * 60 / this.tempo;
      if (at >= until) return;
      this.n++;
      // What was missed while the phone slept is left out, not made up for.
      if (at >= now + NEAR) this.pending.push({ at, click: this.sound(at) });
    }
  }
}

// knock gives the sound of a click on an audio context: short, wooden, and quiet enough
// to play against.
export function knock(audio, out = audio.destination) {
  return (at) => {
    const wave = audio.createOscillator(), loud = audio.createGain();
    wave.frequency.value = 880;
    loud.gain.setValueAtTime(0.5, at);
    loud.gain.exponentialRampToValueAtTime(0.001, at + 0.045);
    wave.connect(loud).connect(out);
    wave.start(at);
    wave.stop(at + 0.05);
    return wave;
  };
}

// hum says gently that a time is up: two soft low tones.
export function hum(audio, out = audio.destination) {
  [[0, 294], [0.5, 220]].forEach(([after, pitch]) => {
    const at = audio.currentTime + 0.05 + after;
    const wave = audio.createOscillator(), loud = audio.createGain();
    wave.type = "sine";
    wave.frequency.value = pitch;
    loud.gain.setValueAtTime(0.0001, at);
    loud.gain.linearRampToValueAtTime(0.15, at + 0.08);
    loud.gain.linearRampToValueAtTime(0.0001, at + 0.7);
    wave.connect(loud).connect(out);
    wave.start(at);
    wave.stop(at + 0.75);
  });
}
