import { randomUUID } from "node:crypto";

/** A tab's seat is kept for it this long after it went away, ms: a reload is not a farewell. */
const SEAT_MS = 3000;

interface Tab {
  readonly id: string;
  onCharge: (mayAct: boolean) => void;
}

/** The tabs that listen, in the order they came. The first is in charge; the others may only look. */
export class Tabs {
  readonly #tabs: Tab[] = [];
  #charged: string | null = null;
  #seat: NodeJS.Timeout | null = null;

  /**
   * A tab begins to listen. It gets its former id back unless another tab has it now, as a duplicated one would.
   * `onCharge` is called when it comes to be in charge later.
   */
  come(
    formerId: string | null,
    onCharge: (mayAct: boolean) => void,
  ): { readonly id: string; readonly leave: () => void } {
    const former = formerId !== null && /^[0-9a-f-]{36}$/.test(formerId) ? formerId : null;
    const id = former === null || this.#tabs.some((tab) => tab.id === former) ? randomUUID() : former;
    const tab: Tab = { id, onCharge };
    this.#tabs.push(tab);
    if (this.#charged === null) this.#charged = id;
    if (this.#charged === id && this.#seat !== null) {
      clearTimeout(this.#seat);
      this.#seat = null;
    }
    return { id, leave: () => this.#leave(tab) };
  }

  mayAct(id: string | undefined): boolean {
    return id !== undefined && this.#charged === id;
  }

  close(): void {
    if (this.#seat !== null) clearTimeout(this.#seat);
  }

  #leave(tab: Tab): void {
    const at = this.#tabs.indexOf(tab);
    if (at === -1) return;
    this.#tabs.splice(at, 1);
    if (this.#charged !== tab.id) return;
    this.#seat = setTimeout(() => {
      this.#seat = null;
      const next = this.#tabs[0];
      this.#charged = next?.id ?? null;
      next?.onCharge(true);
    }, SEAT_MS);
  }
}
