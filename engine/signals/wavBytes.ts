type WavFormat = "pcm16" | "float32";

/**
 * One channel of samples (full scale 1) as a WAV file: RIFF, WAVE, a format chunk and the data; little-endian. `pcm16`
 * rounds to 16 bits and clips beyond full scale; `float32` keeps the samples as they are, with the fact chunk that a format other than PCM asks
 * for. Source: RIFF-WAVE (multimedia programming interface 1.0, 1991, and its 1994 addition of IEEE floats; from memory).
 */
export function wavBytes(samples: Float32Array, rate: number, format: WavFormat): Uint8Array<ArrayBuffer> {
  const width = format === "pcm16" ? 2 : 4;
  const formatSize = format === "pcm16" ? 16 : 18;
  const factSize = format === "pcm16" ? 0 : 12;
  const data = width * samples.length;
  const start = 12 + 8 + formatSize + factSize + 8;
  const out = new Uint8Array(start + data);
  const view = new DataView(out.buffer);
  let at = 0;
  const word = (text: string) => {
    for (const letter of text) view.setUint8(at++, letter.charCodeAt(0));
  };
  const two = (value: number) => {
    view.setUint16(at, value, true);
    at += 2;
  };
  const four = (value: number) => {
    view.setUint32(at, value, true);
    at += 4;
  };
  word("RIFF");
  four(out.length - 8);
  word("WAVE");
  word("fmt ");
  four(formatSize);
  two(format === "pcm16" ? 1 : 3);
  two(1);
  four(rate);
  four(rate * width);
  two(width);
  two(8 * width);
  if (format === "float32") {
    two(0);
    word("fact");
    four(4);
    four(samples.length);
  }
  word("data");
  four(data);
  for (let i = 0; i < samples.length; i++) {
    if (format === "float32") view.setFloat32(start + 4 * i, samples[i]!, true);
    else {
      const whole = Math.round(32767 * samples[i]!);
      view.setInt16(start + 2 * i, Math.max(-32768, Math.min(32767, whole)), true);
    }
  }
  return out;
}
