// The rest between sets, told from the clock: right also after the screen was off.

import { small } from "./store.js";

const LATE_MS = 10 * 60_000; // a rest that ended long ago is not told any more

export class Rest extends EventTarget {
  constructor() {
    super();
    this.until = null;
    this.of = null;
    this.told = true;
    this.timer = null;
    document.addEventListener("visibilitychange", () => this.tick());
  }

  async restore() {
    const kept = await small.read("rest");
    if (kept && Date.now() - kept.until < LATE_MS) Object.assign(this, kept);
    this.tick();
  }

  begin(session, item, seconds, from = Date.now()) {
    this.of = `${session}/${item}`;
    this.until = from + 1000 * seconds;
    this.told = false;
    this.keep();
  }

  longer(seconds) {
    this.until = Math.max(this.until, Date.now()) + 1000 * seconds;
    this.told = false;
    this.keep();
  }

  stop() {
    this.until = null;
    this.told = true;
    this.keep();
  }

  keep() {
    small.keep("rest", { until: this.until, of: this.of, told: this.told });
    this.tick();
  }

  // Seconds left; 0 when over, null where nothing is timed.
  get left() {
    return this.until === null ? null : Math.max(0, Math.ceil((this.until - Date.now()) / 1000));
  }

  tick() {
    clearTimeout(this.timer);
    if (this.until === null) {
      this.dispatchEvent(new Event("tick"));
      return;
    }
    const left = this.until - Date.now();
    if (left > 0) this.timer = setTimeout(() => this.tick(), left % 1000 || 1000);
    else if (!this.told) {
      this.told = true;
      small.keep("rest", { until: this.until, of: this.of, told: true });
      this.dispatchEvent(new Event("over"));
    }
    this.dispatchEvent(new Event("tick"));
  }
}

export const clock = (seconds) =>
  `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;

// A short, soft tone; only where the athlete asked for it.
export function tone() {
  const Sound = window.AudioContext;
  if (!Sound) return;
  const sound = new Sound();
  const pitch = sound.createOscillator();
  const volume = sound.createGain();
  pitch.frequency.value = 440;
  volume.gain.setValueAtTime(0.2, sound.currentTime);
  volume.gain.exponentialRampToValueAtTime(0.001, sound.currentTime + 0.6);
  pitch.connect(volume).connect(sound.destination);
  pitch.start();
  pitch.stop(sound.currentTime + 0.6);
  pitch.onended = () => sound.close();
}
