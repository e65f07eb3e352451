import {
  BufferAttribute,
  BufferGeometry,
  Color,
  ColorManagement,
  DoubleSide,
  Group,
  LinearSRGBColorSpace,
  LineSegments,
  Matrix4,
  Mesh,
  OrthographicCamera,
  Scene,
  ShaderMaterial,
  Vector4,
  WebGLRenderer,
} from "three";
import { lineShader, surfaceShader, vertexShader } from "./bodyShaders.ts";
import { carried } from "./carriers.ts";
import type { ModeMotion } from "./modeMotion.ts";
import type { PartKind, SolidPart } from "./solidParts.ts";

/** Colours of the page's inks, by their names ("ink", "paper", "out1" ...). */
export type Inks = Readonly<Record<string, string>>;

/** How the guitar is turned and how large it is drawn: rad about the screen's upright and level axes; 1: the body fills the sheet. */
export interface Pose {
  readonly yaw: number;
  readonly pitch: number;
  readonly zoom: number;
}

/** What is cut away: everything on the near side of a plane across an axis of the body, m. */
export interface Cut {
  readonly axis: "along" | "across";
  readonly at: number;
}

export interface BodyScene {
  move(motion: ModeMotion | null): void;
  /** -1 to 1: the moment of the swing; `size`: the largest motion drawn, m. */
  swing(moment: number, size: number): void;
  pose(pose: Pose): void;
  cut(cut: Cut | null): void;
  show(kinds: ReadonlySet<PartKind>): void;
  inks(inks: Inks): void;
  resize(widthPx: number, heightPx: number, density: number): void;
  draw(): void;
  close(): void;
}

interface Built {
  readonly part: SolidPart;
  readonly geometry: BufferGeometry;
  readonly group: Group;
  readonly surface: ShaderMaterial;
  readonly pen: ShaderMaterial;
}

/** Base colour of each kind of part, by ink. */
const bases: Readonly<Record<PartKind, string>> = {
  top: "paper",
  back: "paper",
  sides: "paper",
  bridge: "brace",
  "top brace": "brace",
  "back brace": "brace",
  neck: "paper",
  board: "spruce",
};

/** The ink of edges lies this far off their faces, m. */
const inkLift = 0.0015;

/** Ready to draw on the canvas. Throws where the browser has no WebGL. */
export function bodyScene(
  canvas: HTMLCanvasElement,
  parts: readonly SolidPart[],
  bodyLength: number,
  hand: "right" | "left",
): BodyScene {
  // inks go to the screen as they are named: the scene mixes no light
  ColorManagement.enabled = false;
  const renderer = new WebGLRenderer({ canvas, antialias: true });
  renderer.outputColorSpace = LinearSRGBColorSpace;
  const scene = new Scene();
  const camera = new OrthographicCamera(-1, 1, 1, -1, -4, 4);
  const root = new Group();
  root.matrixAutoUpdate = false;
  scene.add(root);
  const built = parts.map(build);
  for (const { group } of built) root.add(group);
  const materials = built.flatMap(({ surface, pen }) => [surface, pen]);
  const set = (name: string, value: unknown) => {
    for (const { uniforms } of materials) if (uniforms[name] !== undefined) uniforms[name]!.value = value;
  };
  let [aspect, zoom] = [2, 1];
  const frame = () => {
    // the body's breadth with some air round it, and where the sheet is narrow its length
    const half = (0.62 * bodyLength * Math.max(1, 1.25 / aspect)) / zoom;
    camera.top = half;
    camera.bottom = -half;
    camera.left = -half * aspect;
    camera.right = half * aspect;
    camera.updateProjectionMatrix();
  };
  return {
    move(motion) {
      for (const one of built) applyMotion(one, motion);
    },
    swing(moment, size) {
      set("swing", moment);
      set("size", size);
    },
    pose({ yaw, pitch, zoom: asked }) {
      zoom = asked;
      frame();
      root.matrix
        .makeRotationX(pitch)
        .multiply(new Matrix4().makeRotationY(yaw))
        // as the player looks down on it: the bass at the lower edge
        .multiply(new Matrix4().makeRotationZ(hand === "right" ? Math.PI : 0))
        .multiply(new Matrix4().makeTranslation(-0.52 * bodyLength, 0, 0.09 * bodyLength));
      root.matrixWorldNeedsUpdate = true;
    },
    cut(cut) {
      set(
        "cut",
        cut === null
          ? new Vector4(0, 0, 0, -1)
          : cut.axis === "along"
            ? new Vector4(0, hand === "right" ? -1 : 1, 0, hand === "right" ? -cut.at : cut.at)
            : new Vector4(1, 0, 0, cut.at),
      );
    },
    show(kinds) {
      for (const { part, group } of built) group.visible = kinds.has(part.kind);
    },
    inks(inks) {
      const colour = (name: string) => new Color(inks[name] ?? "gray");
      const [ink, paper] = [colour("ink"), colour("paper")];
      renderer.setClearColor(paper, 1);
      set("ink", ink);
      for (const side of ["out", "in"])
        set(
          `${side}Tints`,
          [1, 2, 3, 4].map((k) => colour(`${side}${k}`)),
        );
      for (const { part, surface } of built) surface.uniforms["base"]!.value = colour(bases[part.kind]);
    },
    resize(widthPx, heightPx, density) {
      renderer.setPixelRatio(density);
      renderer.setSize(widthPx, heightPx, false);
      set("dot_", density);
      aspect = widthPx / Math.max(1, heightPx);
      frame();
    },
    draw() {
      renderer.render(scene, camera);
    },
    close() {
      for (const { geometry, surface, pen } of built) {
        geometry.dispose();
        surface.dispose();
        pen.dispose();
      }
      renderer.dispose();
    },
  };
}

function build(part: SolidPart): Built {
  const geometry = new BufferGeometry();
  const count = part.positions.length / 3;
  geometry.setAttribute("position", new BufferAttribute(part.positions, 3));
  geometry.setAttribute("lift", new BufferAttribute(new Float32Array(count), 1));
  geometry.setAttribute("tone", new BufferAttribute(new Float32Array(count), 1));
  geometry.setIndex(new BufferAttribute(part.triangles, 1));
  const ink = geometry.clone().setIndex(new BufferAttribute(part.lines, 1));
  for (const name of ["position", "lift", "tone"]) ink.setAttribute(name, geometry.getAttribute(name));
  const shared = () => ({
    swing: { value: 0 },
    size: { value: 0 },
    ink: { value: new Color() },
    cut: { value: new Vector4(0, 0, 0, -1) },
  });
  // braces and bridge lie close to their plate: their ink keeps its place, lest it show through, and their faces step back instead
  const isGlued = ["top brace", "back brace", "bridge"].includes(part.kind);
  const four = () => ({ value: [new Color(), new Color(), new Color(), new Color()] });
  const surface = new ShaderMaterial({
    vertexShader,
    fragmentShader: surfaceShader,
    side: DoubleSide,
    polygonOffset: isGlued,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
    uniforms: {
      ...shared(),
      nearer: { value: 0 },
      base: { value: new Color() },
      outTints: four(),
      inTints: four(),
      tinted: { value: part.kind === "top" || part.kind === "back" ? 1 : 0 },
      dot_: { value: 1 },
    },
  });
  const pen = new ShaderMaterial({
    vertexShader,
    fragmentShader: lineShader,
    uniforms: { ...shared(), nearer: { value: isGlued ? 0 : inkLift } },
  });
  const group = new Group();
  const faces = new Mesh(geometry, surface);
  const lines = new LineSegments(ink, pen);
  // the vertices move in the shader, so their bounds at rest say nothing
  faces.frustumCulled = false;
  lines.frustumCulled = false;
  group.add(faces, lines);
  return { part, geometry, group, surface, pen };
}

function applyMotion({ part, geometry }: Built, motion: ModeMotion | null): void {
  const lift = geometry.getAttribute("lift") as BufferAttribute;
  const tone = geometry.getAttribute("tone") as BufferAttribute;
  const up = motion === null || part.top === null ? null : carried(part.top, motion.top);
  const down = motion === null || part.back === null ? null : carried(part.back, motion.back);
  for (let i = 0; i < lift.count; i++) {
    lift.array[i] = (up?.[i] ?? 0) - (down?.[i] ?? 0);
    tone.array[i] = part.kind === "top" ? (up?.[i] ?? 0) : part.kind === "back" ? (down?.[i] ?? 0) : 0;
  }
  lift.needsUpdate = true;
  tone.needsUpdate = true;
}
