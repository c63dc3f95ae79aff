/** Reads a stream of server-sent events (HTML standard, "Server-sent events"), in pieces of any size. */
export class EventReader {
  readonly #onEvent: (name: string, data: string) => void;
  #text = "";
  #name = "message";
  #data: string[] = [];

  constructor(onEvent: (name: string, data: string) => void) {
    this.#onEvent = onEvent;
  }

  push(piece: string): void {
    this.#text += piece;
    for (let end = this.#text.indexOf("\n"); end !== -1; end = this.#text.indexOf("\n")) {
      const line = this.#text.slice(0, end).replace(/\r$/, "");
      this.#text = this.#text.slice(end + 1);
      this.#take(line);
    }
  }

  #take(line: string): void {
    if (line === "") {
      if (this.#data.length > 0) this.#onEvent(this.#name, this.#data.join("\n"));
      this.#name = "message";
      this.#data = [];
      return;
    }
    // A line that begins with a colon is a comment; the program sends one to show that it is still there.
    const colon = line.indexOf(":");
    if (colon === 0) return;
    const field = colon === -1 ? line : line.slice(0, colon);
    const value = colon === -1 ? "" : line.slice(colon + 1).replace(/^ /, "");
    if (field === "event") this.#name = value;
    if (field === "data") this.#data.push(value);
  }
}
