import { CUT_OFF } from "../../core/gauge/shownByte.ts";
import type { LinkState } from "../../core/session/event.ts";
import { GaugeLink } from "./gaugeLink.ts";
import type { GaugePort } from "./gaugePort.ts";

export interface FootSwitchState {
  readonly link: LinkState;
  /** Its port; null when none was ever connected. */
  readonly path: string | null;
}

/**
 * A foot switch on a serial line: every line of text it sends is a press of one of its pedals. It comes back by itself
 * when its cable does, as a gauge does.
 */
export class FootSwitch {
  readonly #onState: (state: FootSwitchState) => void;
  readonly #onPress: (line: string) => void;
  #link: GaugeLink | null = null;
  #state: FootSwitchState = { link: "closed", path: null };

  constructor(onState: (state: FootSwitchState) => void, onPress: (line: string) => void) {
    this.#onState = onState;
    this.#onPress = onPress;
  }

  get state(): FootSwitchState {
    return this.#state;
  }

  /** Listens at a port, in place of the one before. @throws PortError when the port cannot be opened. */
  async connect(path: string, newPort: () => GaugePort): Promise<void> {
    await this.disconnect();
    const link = new GaugeLink({
      newPort,
      onLine: (line) => {
        // Of a line that broke off nobody can say which pedal it was.
        if (line.trim() !== "" && !line.endsWith(CUT_OFF)) this.#onPress(line.trim());
      },
      onLink: (state) => this.#become({ link: state, path }),
    });
    await link.connect();
    this.#link = link;
  }

  async disconnect(): Promise<void> {
    const link = this.#link;
    this.#link = null;
    await link?.disconnect();
  }

  #become(state: FootSwitchState): void {
    this.#state = state;
    this.#onState(state);
  }
}
