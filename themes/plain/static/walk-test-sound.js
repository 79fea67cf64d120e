// Test signals made in the browser, always begun quiet. The noise is shaped in the frequency domain, so that it repeats
// without a seam and has the same spectrum as the files that `rigbook signals` writes.
"use strict";
const walkSound = (() => {
  const START_DB = -40;
  const SIGNALS = {
    pink: "pink noise", low: "low band noise, 40 to 100 Hz", tone: "1 kHz tone", pulse: "polarity pulse", burst: "low bursts, 63 Hz",
    sweep: "stepped tones, 40 Hz to 10 kHz",
  };
  let context = null, playing = null;

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

  function noise(rate, low, high) {
    const n = 131072, re = new Float64Array(n), im = new Float64Array(n);
    let seed = 1;
    const random = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
    for (let k = Math.ceil((low * n) / rate); k <= (high * n) / rate && k < n / 2; k++) {
      const size = 1 / Math.sqrt(k), phase = 2 * Math.PI * random();
      re[k] = re[n - k] = size * Math.cos(phase);
      im[k] = size * Math.sin(phase);
      im[n - k] = -im[k];
    }
    inverse(re, im);
    return level(re, 0.1);  // -20 dBFS
  }

  function level(samples, rms) {
    let sum = 0;
    for (const x of samples) sum += x * x;
    const factor = rms / Math.sqrt(sum / samples.length);
    return Float32Array.from(samples, (x) => x * factor);
  }

  const every = (seconds, rate, make) => Float32Array.from({ length: Math.round(seconds * rate) }, (_, i) => make(i / rate));
  const MAKE = {
    pink: (rate) => noise(rate, 20, 20000),
    low: (rate) => noise(rate, 40, 100),
    tone: (rate) => every(1, rate, (t) => 0.1414 * Math.sin(2 * Math.PI * 1000 * t)),
    // pushes first and pulls back half as much for twice as long: no steady part, and its side shows on a polarity tester
    pulse: (rate) => every(0.5, rate, (t) => {
      const ms = t * 1000;
      return ms < 2 ? 0.5 * Math.sin((Math.PI * ms) / 2) ** 2 : ms < 6 ? -0.25 * Math.sin((Math.PI * (ms - 2)) / 4) ** 2 : 0;
    }),
    burst: (rate) => every(1, rate, (t) => {
      const length = 8 / 63;
      return t < length ? 0.25 * Math.sin(2 * Math.PI * 63 * t) * Math.sin((Math.PI * t) / length) ** 2 : 0;
    }),
    sweep: (rate) => {
      const tones = Array.from({ length: 25 }, (_, i) => 1000 * 2 ** ((i - 14) / 3)), step = 0.6;
      return every(tones.length * step, rate, (t) => {
        const i = Math.min(tones.length - 1, Math.floor(t / step)), s = t - i * step;
        return 0.1414 * Math.sin(2 * Math.PI * tones[i] * s) * Math.min(1, s / 0.05, (step - s) / 0.05);
      });
    },
  };

  const amount = (db) => 10 ** (db / 20);

  function start(name, side) {
    stop();
    context = context || new AudioContext();
    context.resume();
    const mono = MAKE[name](context.sampleRate), silent = new Float32Array(mono.length);
    const turn = side === "turns";
    const buffer = context.createBuffer(2, mono.length * (turn ? 2 : 1), context.sampleRate);
    buffer.copyToChannel(side === "right" ? silent : mono, 0, 0);
    buffer.copyToChannel(side === "left" || turn ? silent : mono, 1, 0);
    if (turn) buffer.copyToChannel(mono, 1, mono.length);
    const source = context.createBufferSource(), gain = context.createGain();
    source.buffer = buffer;
    source.loop = true;
    gain.gain.setValueAtTime(0, context.currentTime);
    gain.gain.linearRampToValueAtTime(amount(START_DB), context.currentTime + 1);
    source.connect(gain).connect(context.destination);
    source.start();
    playing = { source, gain };
  }

  function setLevel(db) {
    if (!playing) return;
    playing.gain.gain.cancelScheduledValues(context.currentTime);
    playing.gain.gain.setTargetAtTime(amount(db), context.currentTime, 0.1);
  }

  function stop() {
    if (!playing) return;
    const { source, gain } = playing;
    playing = null;
    gain.gain.cancelScheduledValues(context.currentTime);
    gain.gain.setTargetAtTime(0, context.currentTime, 0.02);
    source.stop(context.currentTime + 0.15);
  }

  return { SIGNALS, START_DB, MAKE, start, stop, setLevel, get on() { return Boolean(playing); } };
})();
