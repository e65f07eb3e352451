/**
 * How long the outer air of a guitar-like body takes: surface, flows, fields at 10 frequencies up to 1 kHz with 112 patterns,
 * and how nearly the two checks come out, for several numbers of panels. Times of this machine in this run, milliseconds of
 * processor time [of the clock], the least of some runs; the first run, cold, apart.
 */
import {
  type ExteriorSpec,
  type ExteriorSurface,
  exteriorField,
  exteriorFrequencies,
  exteriorSurface,
  panelFlows,
} from "#engine/air";
import { type KernelSource, type Kernels, opened, quiet, typescriptKernels } from "#engine/numerics";
import { wasmKernels } from "#kernels";

const patterns = 112;
const runs = 5;

const body: ExteriorSpec = {
  outline: ring(120, (a) => {
    const r = 0.19 + 0.035 * Math.cos(2 * a) + 0.012 * Math.cos(3 * a);
    return [0.25 + 1.1 * r * Math.cos(a), 0.95 * r * Math.sin(a)];
  }),
  top: { at: 0, perX: 0, dome: { radius: 9, apex: [0.2, 0] } },
  back: { at: -0.12, perX: 0.04, dome: { radius: 4.5, apex: [0.2, 0] } },
  hole: { polygon: ring(96, (a) => [0.34 + 0.05 * Math.cos(a), 0.05 * Math.sin(a)]), scoop: 0 },
};

function ring(points: number, at: (angle: number) => readonly [number, number]): Float64Array {
  return Float64Array.from(
    Array.from({ length: points }, (_, i) => at((2 * Math.PI * i) / points)).flatMap((p) => [...p]),
  );
}

interface Span {
  readonly cpu: number;
  readonly wall: number;
}

function spent<T>(work: () => T): { readonly span: Span; readonly value: T } {
  const [cpu, wall] = [process.cpuUsage(), performance.now()];
  const value = work();
  const { user, system } = process.cpuUsage(cpu);
  return { span: { cpu: (user + system) / 1000, wall: performance.now() - wall }, value };
}

const said = (spans: readonly Span[]): string =>
  [spans[0], spans.slice(1).reduce((a, b) => (b.cpu < a.cpu ? b : a))]
    .map((s) => `${s.cpu.toFixed(0).padStart(6)} [${s.wall.toFixed(0)}]`)
    .join("   ");

/** The kernels with a clock on each of the outer air's; and how many doubles they were given. */
function clocked(source: KernelSource, sums: Map<string, number>): KernelSource {
  return (doubles) => {
    sums.set("MB", (8 * doubles) / 2 ** 20);
    const kernels = source(doubles);
    const watch = <K extends object>(group: K): K =>
      Object.fromEntries(
        Object.entries(group).map(([name, call]) => [
          name,
          (...given: unknown[]) => {
            const { span, value } = spent(() => call(...given));
            sums.set(name, (sums.get(name) ?? 0) + span.cpu);
            return value;
          },
        ]),
      ) as K;
    return {
      ...kernels,
      complexLu: watch(kernels.complexLu),
      wavePairs: watch(kernels.wavePairs),
    } satisfies Kernels;
  };
}

function flowsOver(coarse: ExteriorSurface): { readonly velocities: Float64Array; readonly spans: Span[] } {
  const fine = opened(exteriorSurface({ ...body, hole: null }, 16000));
  const places = fine.nodes.length / 3;
  const motions = new Float64Array(patterns * 3 * places);
  for (let i = 0; i < patterns; i++) {
    for (let p = 0; p < places; p++) {
      const [x, y] = [fine.nodes[3 * p], fine.nodes[3 * p + 1]];
      motions[3 * (i * places + p) + 2] = Math.cos(3 * i * x) * Math.cos((i % 7) * 5 * y + i);
    }
  }
  const made = Array.from({ length: runs }, () => spent(() => panelFlows(coarse, fine, motions)));
  return { velocities: made[0].value, spans: made.map((m) => m.span) };
}

/** Says a table of times; `say` takes one line. */
export function exteriorTimings(say: (line: string) => void): void {
  say(
    `outer air, ${patterns} patterns, 10 frequencies to 1 kHz; ms of processor time [of the clock]: first run, least`,
  );
  for (const most of [400, 700, 1000, 1500]) {
    const surfaces = Array.from({ length: 3 }, () => spent(() => opened(exteriorSurface(body, most))));
    const surface = surfaces[0].value;
    const { velocities, spans } = flowsOver(surface);
    say(`\n${surface.triangles.length / 3} panels, ${surface.nodes.length / 3} nodes`);
    say(`  surface              ${said(surfaces.map((s) => s.span))}`);
    say(`  flows                ${said(spans)}`);
    for (const source of most === 700 ? [wasmKernels, typescriptKernels] : [wasmKernels]) {
      const sums = new Map<string, number>();
      const solve = () => {
        sums.clear();
        return opened(
          exteriorField(
            surface,
            velocities,
            {
              frequencies: exteriorFrequencies(10, 1000),
              listeners: Float64Array.of(0.2, 0, 1, 0.65, 0.2, 0.35),
              density: 1.2,
              soundSpeed: 343,
            },
            { ...quiet, kernels: clocked(source, sums) },
          ),
        );
      };
      const fields = Array.from({ length: source === wasmKernels ? runs : 2 }, () => spent(solve));
      const { checks } = fields[0].value;
      say(`  field, ${source(0).name.padEnd(10)}    ${said(fields.map((f) => f.span))}`);
      say(
        `    of which ${[...sums].map(([name, v]) => `${name} ${v.toFixed(0)}`).join(", ")}; ` +
          `asymmetry ${Math.max(...checks.asymmetry).toExponential(1)}, power ${Math.max(...checks.powerMismatch).toExponential(1)}`,
      );
    }
  }
}
