import type { GaugePort } from "./gaugePort.ts";

/** What somebody who listens in hears of a port. */
export interface Tap {
  opened(): void;
  bytes(bytes: Uint8Array): void;
  written(text: string): void;
  closed(closed: { readonly wanted: boolean; readonly why: string | null }): void;
}

/** The same port, with somebody listening in. */
export function tappedPort(port: GaugePort, tap: Tap): GaugePort {
  return {
    async open(handlers) {
      await port.open({
        onBytes(bytes) {
          tap.bytes(bytes);
          handlers.onBytes(bytes);
        },
        onClose(closed) {
          tap.closed(closed);
          handlers.onClose(closed);
        },
      });
      tap.opened();
    },
    async write(text) {
      await port.write(text);
      tap.written(text);
    },
    close: () => port.close(),
  };
}
