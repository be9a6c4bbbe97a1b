/**
 * What a hand hears and feels of a scan: one high tone and a short shake for yes, two low tones and
 * a long shake where it is asked. Never the only word: what was heard is on the screen too.
 */

export interface Bell {
  ring(sound?: "good" | "asks"): void;
  /** What sounds now is heard to its end. */
  close(): void;
}

const TONES = { good: [1976], asks: [392, 330] };
const SHAKES = { good: [80], asks: [180, 90, 180] };
const LASTS_S = 0.15;

/** Made when a key is pressed: browsers let a page sound only after a hand has moved. */
export function bell(): Bell {
  const air = typeof AudioContext === "undefined" ? null : new AudioContext();
  let until = 0;
  return {
    ring(sound = "good") {
      navigator.vibrate?.(SHAKES[sound]);
      if (air === null || air.state === "closed") return;
      void air.resume();
      TONES[sound].forEach((pitch, i) => {
        const at = air.currentTime + i * (LASTS_S + 0.05);
        const [tone, loud] = [air.createOscillator(), air.createGain()];
        tone.frequency.value = pitch;
        loud.gain.setValueAtTime(0.25, at);
        loud.gain.exponentialRampToValueAtTime(0.001, at + LASTS_S);
        tone.connect(loud).connect(air.destination);
        tone.start(at);
        tone.stop(at + LASTS_S);
        until = at + LASTS_S;
      });
    },
    close() {
      if (air === null || air.state === "closed") return;
      setTimeout(() => void air.close(), Math.max(0, until - air.currentTime) * 1000);
    },
  };
}
