/**
 * The port of one gauge, whatever stands behind it: a serial adapter, a pseudo-terminal, a scripted or simulated gauge.
 * Written for the one who implements it:
 * - Bytes come in any pieces; a piece may hold half a line or several. Never wait to collect a whole line.
 * - `onBytes` is called with nothing before `open` resolves and nothing after `onClose` was called.
 * - `onClose` is called exactly once for every successful `open`: `wanted` is true only if `close()` was asked for;
 *   a pulled cable or a vanished device gives `wanted: false`. A failed `open` never calls it.
 * - After a close the object is done: a new opening is a new GaugePort, so that no half line survives a reconnect.
 * - `write` may be unsupported by a gauge that only talks; it then resolves all the same.
 * - Setting control lines may fail on a pseudo-terminal; that is tolerated and not an error.
 */
export interface GaugePort {
  open(handlers: GaugePortHandlers): Promise<void>;
  write(text: string): Promise<void>;
  close(): Promise<void>;
}

export interface GaugePortHandlers {
  onBytes(bytes: Uint8Array): void;
  onClose(closed: { readonly wanted: boolean; readonly why: string | null }): void;
}

/** Why a port could not be opened or was lost, in a word a program can test. */
export type PortErrorCode = "absent" | "busy" | "not-allowed" | "not-a-port" | "other-adapter" | "failed";

/** Thrown by `open`; the message is a sentence a user understands: what, which port, what to do. */
export class PortError extends Error {
  override readonly name = "PortError";
  readonly code: PortErrorCode;
  readonly path: string;
  constructor(code: PortErrorCode, path: string, message: string) {
    super(message);
    this.code = code;
    this.path = path;
  }
}
