/**
 * A small seeded generator, so that a bench that is not there can be built again to the last byte.
 * The recurrence is mulberry32 (public domain; a 32-bit Weyl sequence of step 0x6D2B79F5 with a multiply-xorshift
 * finaliser). It is meant for simulation only: never for a secret.
 */
export class Random {
  readonly #seed: number;
  #state: number;

  /** @param seed any whole number; only its lowest 32 bits count. */
  constructor(seed: number) {
    this.#seed = seed >>> 0;
    this.#state = this.#seed;
  }

  /** Even on [0, 1): 0 included, 1 not. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = this.#state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }

  /** Even between `low` (included) and `high` (not included). */
  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  /** A whole number from 0 to `count` − 1; `count` at least 1. */
  below(count: number): number {
    return Math.floor(this.next() * count);
  }

  /** Normal with mean 0 and standard deviation `sigma`, by the Box–Muller transform. */
  normal(sigma: number): number {
    const radius = Math.sqrt(-2 * Math.log(1 - this.next()));
    return sigma * radius * Math.cos(2 * Math.PI * this.next());
  }

  /** Triangular about 0, never beyond ±`halfWidth`: scatter without the wild values that a normal law has. */
  triangular(halfWidth: number): number {
    return halfWidth * (this.next() - this.next());
  }

  /**
   * A generator of its own for one purpose, the same for the same seed and name whatever else was drawn before:
   * another habit of the person must not change the block.
   */
  fork(name: string): Random {
    // FNV-1a over the name, started from the seed.
    let hash = (0x811c9dc5 ^ this.#seed) >>> 0;
    for (let at = 0; at < name.length; at += 1) hash = Math.imul(hash ^ name.charCodeAt(at), 0x01000193) >>> 0;
    return new Random(hash);
  }
}
