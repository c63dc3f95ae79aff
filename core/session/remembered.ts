/** A value that is worked out again only when something that it follows from has become another. */
export class Remembered<Value> {
  #from: readonly unknown[] | null = null;
  #value: Value | undefined;

  /** The value of `work`, which depends on nothing but what `from` lists; compared by identity, always as many. */
  of(from: readonly unknown[], work: () => Value): Value {
    const before = this.#from;
    if (before === null || from.some((part, index) => !Object.is(part, before[index]))) {
      this.#value = work();
      this.#from = from;
    }
    return this.#value as Value;
  }
}
