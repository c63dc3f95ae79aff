import { randomBytes, timingSafeEqual } from "node:crypto";

/** A text nobody can guess: 256 bits, safe in an address. */
export function newSecret(): string {
  return randomBytes(32).toString("base64url");
}

/** Whether two secrets are the same, in a time that says nothing about where they differ. */
export function sameSecret(one: string, other: string): boolean {
  const left = Buffer.from(one);
  const right = Buffer.from(other);
  return left.length === right.length && timingSafeEqual(left, right);
}

/** So many wrong codes, and no code counts any more: nobody types one, so whoever is wrong that often is guessing. */
const MOST_WRONG = 20;

/**
 * What opens the loopback shell. A one-time `code` stands in the address that is printed and opened; it is exchanged
 * for the `token`, which the page keeps for its tab and sends with every call, and for the `pass`, a cookie that only
 * fetches the page's own files. The two differ because a browser sends cookies for this computer to every port of it:
 * what another program could see that way must not open the bench.
 */
export class Secrets {
  readonly token = newSecret();
  readonly pass = newSecret();
  readonly #codes = new Set<string>();
  #wrong = 0;

  newCode(): string {
    const code = newSecret();
    this.#codes.add(code);
    return code;
  }

  /** True once for each code; never again after so many wrong ones that somebody must be guessing. */
  spend(code: string): boolean {
    for (const known of this.#codes) {
      if (!sameSecret(known, code)) continue;
      this.#codes.delete(known);
      return true;
    }
    this.#wrong += 1;
    if (this.#wrong >= MOST_WRONG) this.#codes.clear();
    return false;
  }
}
