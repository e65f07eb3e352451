import { type RefObject, useEffect, useRef, useState } from "react";
import type { BodyScene, Inks } from "./bodyScene.ts";
import type { SolidPart } from "./solidParts.ts";

const noSpace = "This browser cannot draw in space (it has no WebGL, or has it switched off).";

const inkNames = ["ink", "paper", "spruce", "brace", ...[1, 2, 3, 4].flatMap((k) => [`out${k}`, `in${k}`])];

/**
 * The scene on a canvas: its code is loaded when it is first wanted. `fault` says in words why there is none. The page's inks
 * are taken over, also when day turns to night.
 */
export function useBodyScene(
  parts: readonly SolidPart[],
  bodyLength: number,
  hand: "right" | "left",
  widthPx: number,
  heightPx: number,
): {
  readonly canvas: RefObject<HTMLCanvasElement | null>;
  readonly scene: BodyScene | null;
  readonly fault: string | null;
} {
  const canvas = useRef<HTMLCanvasElement | null>(null);
  const [scene, setScene] = useState<BodyScene | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    if (document.createElement("canvas").getContext("webgl2") === null) {
      setFault(noSpace);
      return;
    }
    let made: BodyScene | null = null;
    let gone = false;
    import("./bodyScene.ts").then(
      ({ bodyScene }) => {
        if (gone || canvas.current === null) return;
        try {
          made = bodyScene(canvas.current, parts, bodyLength, hand);
          made.inks(pageInks(canvas.current));
          setScene(made);
        } catch {
          setFault(noSpace);
        }
      },
      () => setFault("The part of the page that draws in space could not be loaded."),
    );
    return () => {
      gone = true;
      made?.close();
      setScene(null);
    };
  }, [parts, bodyLength, hand]);
  useEffect(() => {
    if (scene !== null && widthPx > 0) scene.resize(widthPx, heightPx, Math.min(2, devicePixelRatio));
  }, [scene, widthPx, heightPx]);
  useEffect(() => {
    if (scene === null) return;
    const take = () => {
      if (canvas.current !== null) scene.inks(pageInks(canvas.current));
      scene.draw();
    };
    const watch = new MutationObserver(take);
    watch.observe(document.documentElement, { attributeFilter: ["data-light"] });
    const system = matchMedia("(prefers-color-scheme: dark)");
    system.addEventListener("change", take);
    return () => {
      watch.disconnect();
      system.removeEventListener("change", take);
    };
  }, [scene]);
  return { canvas, scene, fault };
}

function pageInks(element: Element): Inks {
  const style = getComputedStyle(element);
  return Object.fromEntries(inkNames.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]));
}
