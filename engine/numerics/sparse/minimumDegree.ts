/**
 * Elimination order by approximate minimum degree on a quotient graph.
 *
 * Words: a VARIABLE is a vertex not yet eliminated; an ELEMENT is what an eliminated one leaves behind, the clique of the
 * variables it touched, kept as one list instead of its many edges. Variables that have become indistinguishable are
 * merged and go out together. Degrees count degrees of freedom, not vertices, and are the upper bound of
 * Amestoy, Davis and Duff, SIAM J. Matrix Anal. Appl. 17 (1996) 886, with their aggressive absorption.
 */
import type { GroupGraph } from "./groupGraph.ts";

/** The vertices in the order they should be eliminated. Ties go to the vertex that became a candidate last. */
export function minimumDegreeOrder(graph: GroupGraph): Uint32Array {
  return new QuotientGraph(graph).eliminateAll();
}

/** Working state of one ordering; never leaves this file. */
class QuotientGraph {
  private readonly count: number;
  private readonly weight: Int32Array; // degrees of freedom; 0 once merged or eliminated
  private readonly adjacent: number[][]; // variables next to a variable, not through an element
  private readonly elementsOf: number[][];
  private readonly variablesOf: number[][]; // of an element, numbered by its pivot; empty once absorbed
  private readonly elementWeight: Int32Array; // 0 once absorbed
  private readonly outside: Int32Array; // |Le minus Lp|, valid where outsideTag is current
  private readonly outsideTag: Int32Array;
  private readonly mark: Int32Array;
  private tag = 0;
  private readonly merged: number[][]; // vertices that go out with this one
  private readonly degree: Int32Array;
  private readonly head: Int32Array; // candidates of each degree, as doubly linked lists
  private readonly next: Int32Array;
  private readonly previous: Int32Array;
  private lowest = 0;
  private remaining = 0;

  constructor(graph: GroupGraph) {
    const { count, start, neighbours, memberStart } = graph;
    this.count = count;
    this.weight = new Int32Array(count);
    this.adjacent = [];
    this.elementsOf = [];
    this.variablesOf = [];
    this.merged = [];
    this.elementWeight = new Int32Array(count);
    this.outside = new Int32Array(count);
    this.outsideTag = new Int32Array(count).fill(-1);
    this.mark = new Int32Array(count).fill(-1);
    this.degree = new Int32Array(count);
    this.next = new Int32Array(count).fill(-1);
    this.previous = new Int32Array(count).fill(-1);
    for (let v = 0; v < count; v++) {
      this.weight[v] = memberStart[v + 1] - memberStart[v];
      this.remaining += this.weight[v];
      this.adjacent.push(Array.from(neighbours.subarray(start[v], start[v + 1])));
      this.elementsOf.push([]);
      this.variablesOf.push([]);
      this.merged.push([v]);
    }
    this.head = new Int32Array(this.remaining + 1).fill(-1);
    // From the last, so that ties go to the first at first: luck, between 8 % more work and 14 % less (example A's body) than
    // the other way round.
    for (let v = count - 1; v >= 0; v--) {
      let degree = 0;
      for (const u of this.adjacent[v]) degree += this.weight[u];
      this.enlist(v, degree);
    }
  }

  eliminateAll(): Uint32Array {
    const order = new Uint32Array(this.count);
    let filled = 0;
    while (filled < this.count) {
      while (this.head[this.lowest] < 0) this.lowest++;
      const pivot = this.head[this.lowest];
      this.delist(pivot);
      this.eliminate(pivot);
      for (const v of this.merged[pivot]) order[filled++] = v;
    }
    return order;
  }

  private enlist(v: number, degree: number): void {
    this.degree[v] = degree;
    const first = this.head[degree];
    this.next[v] = first;
    this.previous[v] = -1;
    if (first >= 0) this.previous[first] = v;
    this.head[degree] = v;
    if (degree < this.lowest) this.lowest = degree;
  }

  private delist(v: number): void {
    const before = this.previous[v];
    const after = this.next[v];
    if (before >= 0) this.next[before] = after;
    else this.head[this.degree[v]] = after;
    if (after >= 0) this.previous[after] = before;
  }

  private eliminate(pivot: number): void {
    const front = this.frontOf(pivot);
    this.remaining -= this.weight[pivot];
    this.weight[pivot] = 0;
    let frontWeight = 0;
    for (const v of front) {
      this.delist(v);
      frontWeight += this.weight[v];
    }
    this.countOutside(front);
    const kept: number[] = [];
    const byHash = new Map<number, number[]>();
    for (const v of front) {
      const bound = this.refresh(v, pivot);
      if (bound === 0) {
        // Nothing left but this front: it can go out together with the pivot at no fill.
        this.merged[pivot].push(...this.merged[v]);
        frontWeight -= this.weight[v];
        this.remaining -= this.weight[v];
        this.weight[v] = 0;
        continue;
      }
      this.degree[v] = bound;
      kept.push(v);
      let hash = 0;
      for (const e of this.elementsOf[v]) hash += e;
      for (const u of this.adjacent[v]) hash += u;
      const same = byHash.get(hash);
      if (same === undefined) byHash.set(hash, [v]);
      else same.push(v);
    }
    for (const same of byHash.values()) if (same.length > 1) this.mergeTwins(same);
    const alive = kept.filter((v) => this.weight[v] > 0);
    for (const v of alive) {
      const degree = Math.min(this.degree[v] + frontWeight, this.remaining) - this.weight[v];
      this.enlist(v, Math.max(degree, 0));
    }
    this.variablesOf[pivot] = alive;
    this.elementWeight[pivot] = frontWeight;
  }

  /** All live variables the pivot touches, marked with the current tag; its elements are absorbed. */
  private frontOf(pivot: number): number[] {
    const tag = ++this.tag;
    const front: number[] = [];
    this.mark[pivot] = tag;
    const take = (v: number): void => {
      if (this.weight[v] > 0 && this.mark[v] !== tag) {
        this.mark[v] = tag;
        front.push(v);
      }
    };
    for (const e of this.elementsOf[pivot]) {
      if (this.elementWeight[e] === 0) continue;
      for (const v of this.variablesOf[e]) take(v);
      this.variablesOf[e] = [];
      this.elementWeight[e] = 0;
    }
    for (const v of this.adjacent[pivot]) take(v);
    this.adjacent[pivot] = [];
    this.elementsOf[pivot] = [];
    return front;
  }

  /** For every other element that meets the front: the weight it has outside the front. */
  private countOutside(front: readonly number[]): void {
    for (const v of front) {
      for (const e of this.elementsOf[v]) {
        if (this.elementWeight[e] === 0) continue;
        if (this.outsideTag[e] !== this.tag) {
          this.outsideTag[e] = this.tag;
          this.outside[e] = this.elementWeight[e];
        }
        this.outside[e] -= this.weight[v];
      }
    }
  }

  /** Prunes a front variable's lists; returns its degree beyond the front (0: nothing beyond it). */
  private refresh(v: number, pivot: number): number {
    let beyond = 0;
    const elements: number[] = [];
    for (const e of this.elementsOf[v]) {
      if (this.elementWeight[e] === 0) continue;
      if (this.outside[e] === 0) {
        this.elementWeight[e] = 0; // wholly inside the new element
        this.variablesOf[e] = [];
        continue;
      }
      elements.push(e);
      beyond += this.outside[e];
    }
    const variables: number[] = [];
    for (const u of this.adjacent[v]) {
      if (this.weight[u] === 0 || this.mark[u] === this.tag) continue;
      variables.push(u);
      beyond += this.weight[u];
    }
    elements.push(pivot);
    this.elementsOf[v] = elements;
    this.adjacent[v] = variables;
    if (beyond === 0) return 0;
    return Math.max(1, Math.min(beyond, this.degree[v])); // the old degree bounds it too
  }

  /** Merges variables with the same elements and the same neighbours. */
  private mergeTwins(candidates: readonly number[]): void {
    for (let i = 0; i < candidates.length; i++) {
      const v = candidates[i];
      if (this.weight[v] === 0) continue;
      for (let j = i + 1; j < candidates.length; j++) {
        const u = candidates[j];
        if (this.weight[u] === 0) continue;
        if (!sameSet(this.elementsOf[v], this.elementsOf[u])) continue;
        if (!sameSet(this.adjacent[v], this.adjacent[u])) continue;
        this.weight[v] += this.weight[u];
        this.weight[u] = 0;
        this.merged[v].push(...this.merged[u]);
        this.elementsOf[u] = [];
        this.adjacent[u] = [];
      }
    }
  }
}

function sameSet(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && a.every((x) => b.includes(x));
}
