/** The package's export map hides its own types from the bundler resolution; these are the parts used here. */
declare module "@kninnug/constrainautor" {
  interface Triangulated {
    coords: ArrayLike<number>;
    triangles: Uint32Array;
    halfedges: Int32Array;
  }
  // biome-ignore lint/style/noDefaultExport: the package exports it so.
  export default class Constrainautor {
    constructor(triangulation: Triangulated);
    constrainOne(from: number, to: number): number;
    delaunify(deep?: boolean): this;
  }
}
