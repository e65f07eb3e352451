import { type ComponentType, createContext, useContext } from "react";
import type { Json } from "../bench/index.ts";
import type { Shape } from "./shape.ts";

export interface EditorProps {
  readonly path: string;
  /** Keys that lead to it, indices left out. */
  readonly keys: readonly string[];
  readonly name: string;
  readonly shape: Shape;
  readonly value: Json | undefined;
  readonly optional: boolean;
  /** The group that it stands in. */
  readonly holder: Json;
  /** Its name is only read out: it stands in a row that names it. */
  readonly quiet?: boolean;
}

/** The editor for a part of a value, whatever that is made of: lists and groups hold values of every kind. */
export const EditorContext = createContext<ComponentType<EditorProps>>(() => null);

export const useEditor = (): ComponentType<EditorProps> => useContext(EditorContext);
