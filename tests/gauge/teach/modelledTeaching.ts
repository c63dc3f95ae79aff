import { Teaching } from "../../../core/gauge/teach/teaching.ts";
import type { TeachView } from "../../../core/gauge/teach/teachView.ts";
import { type Line, throughWire } from "./modelledWire.ts";

/** A gauge on a modelled line: what it sends with, and whether its cable has power. */
export interface ModelledGauge extends Line {
  readonly powered?: (lines: { readonly dtr: boolean; readonly rts: boolean }) => boolean;
}

/** The teaching of a modelled gauge, with a person who presses and a clock of its own. */
export class ModelledTeaching {
  readonly teaching: Teaching;
  readonly gauge: ModelledGauge;
  presses = 0;
  tMs = 0;
  #open: string | null = null;

  /** @param tMs when this gauge comes to be on the line of a teaching that has heard another before. */
  constructor(gauge: ModelledGauge, teaching = new Teaching({}), tMs = 0) {
    this.gauge = gauge;
    this.tMs = tMs;
    this.teaching = teaching;
    this.#keepOpen();
  }

  get view(): TeachView {
    return this.teaching.view();
  }

  /** The gauge sends this text now, in pieces as a system reads them. */
  send(text: string): void {
    const { setting } = this.teaching;
    if (this.gauge.powered?.(setting) === false) return;
    const bytes = throughWire(text, this.gauge, setting);
    for (let at = 0; at < bytes.length; at += 5) {
      this.teaching.push(this.tMs, bytes.slice(at, at + 5));
      this.tMs += 2;
      // What is still on its way to a port that is being opened anew is lost.
      if (this.#keepOpen()) return;
    }
  }

  press(line: string, pauseMs = 1500): void {
    this.presses += 1;
    this.send(line);
    this.wait(pauseMs);
  }

  wait(ms: number): void {
    const end = this.tMs + ms;
    for (let due = this.teaching.dueMs; due !== null && due <= end; due = this.teaching.dueMs) {
      this.tMs = Math.max(this.tMs, due);
      this.teaching.pass(this.tMs);
      this.#keepOpen();
    }
    this.tMs = end;
  }

  /** Presses until it is understood, or so many times. */
  pressUntilFound(lines: readonly string[], atMost = 20): void {
    for (let index = 0; index < atMost && this.view.state !== "found"; index += 1) {
      this.press(lines[index % lines.length] as string);
    }
  }

  #keepOpen(): boolean {
    const wanted = JSON.stringify(this.teaching.setting);
    if (wanted === this.#open) return false;
    this.#open = wanted;
    this.tMs += 20;
    this.teaching.open(this.tMs);
    return true;
  }
}
