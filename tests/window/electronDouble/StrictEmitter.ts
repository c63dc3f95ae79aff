import { EventEmitter } from "node:events";

/** An emitter that refuses listeners for events the double never sends, so that no lock waits for nothing. */
export class StrictEmitter extends EventEmitter {
  readonly #known: ReadonlySet<string | symbol>;
  readonly #name: string;
  constructor(name: string, known: readonly string[]) {
    super();
    this.#name = name;
    this.#known = new Set(known);
    this.on = this.addListener = (event, listener) => super.on(this.#checked(event), listener);
    this.once = (event, listener) => super.once(this.#checked(event), listener);
  }
  #checked(event: string | symbol): string | symbol {
    if (!this.#known.has(event)) throw new Error(`electron.${this.#name} event ${String(event)} is not doubled`);
    return event;
  }
  /** Emits an event that a listener may prevent; true when one did. */
  ask(event: string, details: object, ...more: unknown[]): boolean {
    let prevented = false;
    const asked = { ...details, preventDefault: () => (prevented = true), defaultPrevented: false };
    this.emit(event, asked, ...more);
    return prevented;
  }
}
