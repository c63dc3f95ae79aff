const TYPES: Readonly<Record<string, string>> = { csv: "text/csv", json: "application/json" };

/** Hands a text to the browser to keep under the given name. */
export function download(name: string, content: string): void {
  const type = TYPES[name.split(".").pop() ?? ""] ?? "text/plain";
  const address = URL.createObjectURL(new Blob([content], { type: `${type};charset=utf-8` }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken the content once the click is done; it is let go a little later to be sure.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
