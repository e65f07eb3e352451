import type { Loudspeaker } from "./listenTypes.ts";

/** s: in which the sound comes and goes, and in which one side takes the other's place. */
const rampUp = 0.03;
const rampDown = 0.03;
const change = 0.012;

interface Playing {
  readonly sources: readonly AudioBufferSourceNode[];
  readonly sides: readonly GainNode[];
  readonly whole: GainNode;
  readonly begun: number;
  readonly seconds: number;
}

/** The Web Audio API as a loudspeaker: both sides run in step through one gain, one volume, and out. */
export function webLoudspeaker(context: AudioContext = new AudioContext()): Loudspeaker {
  const volume = context.createGain();
  volume.connect(context.destination);
  let playing: Playing | null = null;

  const fadeAway = (): void => {
    if (playing === null) return;
    const { whole, sources } = playing;
    const now = context.currentTime;
    whole.gain.cancelScheduledValues(now);
    whole.gain.setValueAtTime(whole.gain.value, now);
    whole.gain.linearRampToValueAtTime(0, now + rampDown);
    for (const source of sources) {
      source.onended = null;
      source.stop(now + rampDown);
    }
    playing = null;
  };

  return {
    play(samples, rate, gain, through, ended) {
      const before = playing !== null;
      fadeAway();
      void context.resume();
      // what was playing is gone before this begins, so that the two never add up
      const begun = context.currentTime + (before ? rampDown : 0.005);
      const whole = context.createGain();
      whole.gain.setValueAtTime(0, begun);
      whole.gain.linearRampToValueAtTime(gain, begun + rampUp / 10);
      whole.connect(volume);
      const sides = samples.map((_, k) => {
        const side = context.createGain();
        side.gain.value = k === through ? 1 : 0;
        side.connect(whole);
        return side;
      });
      const sources = samples.map((own, k) => {
        const buffer = context.createBuffer(1, Math.max(1, own.length), rate);
        // not copyToChannel: what a worker sends may lie in shared memory, which that refuses
        buffer.getChannelData(0).set(own);
        const source = context.createBufferSource();
        source.buffer = buffer;
        source.connect(sides[k]!);
        source.start(begun);
        return source;
      });
      const now: Playing = { sources, sides, whole, begun, seconds: samples[0]!.length / rate };
      playing = now;
      sources[0]!.onended = () => {
        if (playing !== now) return;
        playing = null;
        whole.disconnect();
        ended();
      };
    },
    through(side) {
      if (playing === null) return;
      const now = context.currentTime;
      playing.sides.forEach(({ gain }, k) => {
        gain.cancelScheduledValues(now);
        gain.setValueAtTime(gain.value, now);
        gain.linearRampToValueAtTime(k === side ? 1 : 0, now + change);
      });
    },
    volume(factor) {
      volume.gain.setTargetAtTime(Math.min(1, Math.max(0, factor)), context.currentTime, 0.02);
    },
    stop: fadeAway,
    position() {
      if (playing === null) return null;
      return Math.min(playing.seconds, Math.max(0, context.currentTime - playing.begun));
    },
  };
}
