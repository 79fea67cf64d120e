// Test signals made in the browser, always begun quiet. The samples are those of the files that `rigbook signals`
// writes: the same numbers are drawn, and noise is shaped in the frequency domain, so that it repeats without a seam.
"use strict";
const walkSound = (() => {
  const START_DB = -40, RATE = 48000, PERIOD = 131072, RMS = 0.1;
  const SIGNALS = {
    pink: say("pink noise"), low: say("low band noise, 40 to 100 Hz"), mid: say("middle band noise, 500 Hz to 2 kHz"), high: say("high band noise, 4 to 16 kHz"),
    tone: say("1 kHz tone"), pulse: say("polarity pulse"), burst: say("low bursts, 63 Hz"), sweep: say("stepped tones, 40 Hz to 10 kHz"),
  };
  const SIDES = { both: say("both sides"), left: say("left only"), right: say("right only"), turns: say("left and right in turn") };
  let context = null, playing = null, timer = 0;
  const hooks = [];
  const tell = () => { for (const hook of hooks) hook(); };

  // Radix-2 inverse transform in place.
  function inverse(re, im) {
    const n = re.length;
    for (let i = 1, j = 0; i < n; i++) {
      let bit = n >> 1;
      for (; j & bit; bit >>= 1) j ^= bit;
      j ^= bit;
      if (i < j) { [re[i], re[j]] = [re[j], re[i]]; [im[i], im[j]] = [im[j], im[i]]; }
    }
    for (let size = 2; size <= n; size *= 2) {
      const half = size / 2, step = (2 * Math.PI) / size;
      for (let k = 0; k < half; k++) {
        const c = Math.cos(step * k), s = Math.sin(step * k);
        for (let a = k; a < n; a += size) {
          const b = a + half, x = re[b] * c - im[b] * s, y = re[b] * s + im[b] * c;
          re[b] = re[a] - x; im[b] = im[a] - y; re[a] += x; im[a] += y;
        }
      }
    }
  }

  function noise(low, high) {
    const n = PERIOD, re = new Float64Array(n), im = new Float64Array(n);
    let seed = 1;
    const random = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
    for (let k = Math.ceil((low * n) / RATE); k <= Math.floor((high * n) / RATE); k++) {
      const size = 1 / Math.sqrt(k), phase = 2 * Math.PI * random();
      re[k] = re[n - k] = size * Math.cos(phase);
      im[k] = size * Math.sin(phase);
      im[n - k] = -im[k];
    }
    inverse(re, im);
    const factor = RMS / Math.sqrt(re.reduce((sum, x) => sum + x * x, 0) / n);
    return Float32Array.from(re, (x) => x * factor);
  }

  const every = (seconds, make) => Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => make(i / RATE));
  const SINE = RMS * Math.SQRT2;
  const MAKE = {
    pink: () => noise(20, 20000),
    low: () => noise(40, 100),
    mid: () => noise(500, 2000),
    high: () => noise(4000, 16000),
    tone: () => every(1, (t) => SINE * Math.sin(2 * Math.PI * 1000 * t)),
    // pushes first and pulls back half as much for twice as long: no steady part, and its side shows on a polarity tester
    pulse: () => every(0.5, (t) => {
      const ms = t * 1000;
      return ms < 2 ? 0.5 * Math.sin((Math.PI * ms) / 2) ** 2 : ms < 6 ? -0.25 * Math.sin((Math.PI * (ms - 2)) / 4) ** 2 : 0;
    }),
    burst: () => every(1, (t) => {
      const length = 8 / 63;
      return t < length ? 0.25 * Math.sin(2 * Math.PI * 63 * t) * Math.sin((Math.PI * t) / length) ** 2 : 0;
    }),
    sweep: () => {
      const tones = Array.from({ length: 25 }, (_, i) => 1000 * 2 ** ((i - 14) / 3)), step = 0.6, length = Math.round(step * RATE);
      return Float32Array.from({ length: tones.length * length }, (_, n) => {
        const t = (n % length) / RATE;
        return SINE * Math.sin(2 * Math.PI * tones[Math.floor(n / length)] * t) * Math.min(1, t / 0.05, (step - t) / 0.05);
      });
    },
  };

  const amount = (db) => 10 ** (db / 20);

  // the sound and its fader, faded in over a second; `into` may be any context, so that tests can render it
  function graph(into, name, side, db) {
    const mono = MAKE[name](), turn = side === "turns";
    const buffer = into.createBuffer(2, mono.length * (turn ? 2 : 1), RATE);
    if (side !== "right") buffer.copyToChannel(mono, 0, 0);
    if (side !== "left") buffer.copyToChannel(mono, 1, turn ? mono.length : 0);
    const source = into.createBufferSource(), gain = into.createGain();
    source.buffer = buffer;
    source.loop = true;
    gain.gain.setValueAtTime(0, into.currentTime);
    gain.gain.linearRampToValueAtTime(amount(db), into.currentTime + 1);
    source.connect(gain).connect(into.destination);
    source.start();
    return { source, gain, name, side, begun: into.currentTime, turn: turn ? mono.length / RATE : 0 };
  }

  function start(name, side) {
    stop();
    context = context || new AudioContext();
    context.resume();
    playing = graph(context, name, side, START_DB);
    timer = playing.turn ? setInterval(tell, 200) : 0;
    navigator.wakeLock?.request("screen").then((lock) => { if (playing) playing.lock = lock; else lock.release(); }).catch(() => { /* the screen may go dark */ });
    tell();
  }

  function setLevel(db) {
    if (!playing) return;
    playing.gain.gain.cancelScheduledValues(context.currentTime);
    playing.gain.gain.setTargetAtTime(amount(db), context.currentTime, 0.1);
  }

  function stop() {
    if (!playing) return;
    const { source, gain, lock } = playing;
    playing = null;
    clearInterval(timer);
    lock?.release();
    gain.gain.cancelScheduledValues(context.currentTime);
    gain.gain.setTargetAtTime(0, context.currentTime, 0.02);
    source.stop(context.currentTime + 0.15);
    tell();
  }

  // the side that sounds now: `both`, `left` or `right`
  function side() {
    if (!playing || !playing.turn) return playing ? playing.side : "";
    return Math.floor((context.currentTime - playing.begun) / playing.turn) % 2 ? "right" : "left";
  }

  // nobody leaves a page that goes on sounding
  addEventListener("pagehide", stop);
  document.addEventListener("visibilitychange", () => { if (document.hidden) stop(); });

  return { SIGNALS, SIDES, START_DB, RATE, MAKE, graph, start, stop, setLevel, onChange: (hook) => hooks.push(hook), get on() { return playing ? playing.name : ""; }, get side() { return side(); } };
})();
