/**
 * What follows from where a slab was read and not from what was read there, kept from one reckoning to the next: a changed reading then costs a
 * look at each of these numbers, not their making. What is kept is exactly what would be made anew, so it changes no result.
 */
export class Memo {
  readonly #kept = new Map<string, { readonly value: Float64Array | readonly Float64Array[]; readonly size: number }>();
  readonly #most: number;
  #size = 0;

  /** @param most numbers kept at most; what was not asked for longest goes first */
  constructor(most = 6_000_000) {
    this.#most = most;
  }

  /** What is kept under a name, made where it is not. The name must say everything that it follows from. */
  get<T extends Float64Array | readonly Float64Array[]>(name: string, make: () => T): T {
    const known = this.#kept.get(name);
    if (known) {
      this.#kept.delete(name);
      this.#kept.set(name, known);
      return known.value as T;
    }
    const value = make();
    const size = value instanceof Float64Array ? value.length : value.reduce((sum, part) => sum + part.length, 0);
    this.#kept.set(name, { value, size });
    this.#size += size;
    for (const [oldest, { size: freed }] of this.#kept) {
      if (this.#size <= this.#most || oldest === name) break;
      this.#kept.delete(oldest);
      this.#size -= freed;
    }
    return value;
  }
}
