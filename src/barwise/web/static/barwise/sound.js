// Tones at the bench: taken, out of family, not taken, all read. Told apart by rhythm as well as pitch.

const TONES = {
  taken: [[1320, 0, 0.06]],
  odd: [[330, 0, 0.16], [220, 0.2, 0.16], [330, 0.4, 0.16]],
  wrong: [[180, 0, 0.45]],
  done: [[880, 0, 0.1], [1175, 0.12, 0.1], [1568, 0.24, 0.2]],
};
const SHAKES = { odd: [120, 60, 120], wrong: [300] };
let context = null;
let on = true;

export function soundIs(wanted) {
  on = wanted;
}

export function play(name) {
  document.documentElement.dataset.sound = name;
  if (!on) return;
  if (SHAKES[name]) navigator.vibrate?.(SHAKES[name]);
  context ??= new AudioContext();
  context.resume();
  for (const [hertz, start, long] of TONES[name]) {
    const tone = context.createOscillator();
    const loud = context.createGain();
    const at = context.currentTime + start;
    tone.type = name === "taken" ? "sine" : "square";
    tone.frequency.value = hertz;
    loud.gain.setValueAtTime(0.25, at);
    loud.gain.exponentialRampToValueAtTime(0.001, at + long);
    tone.connect(loud).connect(context.destination);
    tone.start(at);
    tone.stop(at + long);
  }
}
