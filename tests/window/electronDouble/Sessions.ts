import { StrictEmitter } from "./StrictEmitter.ts";
import { strict } from "./strict.ts";

type RequestHandler = (contents: unknown, permission: string, answer: (granted: boolean) => void) => void;
type CheckHandler = (contents: unknown, permission: string) => boolean;

/** The double of electron.session: its one session with the permission handlers. */
export class Sessions {
  #request: RequestHandler | null = null;
  #check: CheckHandler | null = null;
  readonly events = new StrictEmitter("session", ["will-download"]);
  readonly defaultSession = strict(
    "session.defaultSession",
    Object.assign(this.events, {
      setPermissionRequestHandler: (handler: RequestHandler | null) => {
        this.#request = handler;
      },
      setPermissionCheckHandler: (handler: CheckHandler | null) => {
        this.#check = handler;
      },
      setDevicePermissionHandler: () => {},
    }),
  );

  /** As in Electron, whoever sets no handler grants everything. */
  async permission(kind: "request" | "check", contents: unknown, name: string): Promise<boolean> {
    if (kind === "check") return this.#check === null || this.#check(contents, name);
    const handler = this.#request;
    return handler === null || new Promise((resolve) => handler(contents, name, resolve));
  }
}
