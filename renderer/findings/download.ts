const TYPES: Readonly<Record<string, string>> = {
  csv: "text/csv;charset=utf-8",
  json: "application/json;charset=utf-8",
  html: "text/html;charset=utf-8",
  bwparcel: "application/zip",
};

/** Hands a text, or bytes, to the browser to keep under the given name. */
export function download(name: string, content: string | Uint8Array<ArrayBuffer>): void {
  const type = TYPES[name.split(".").pop() ?? ""] ?? "text/plain;charset=utf-8";
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken the content once the click is done; it is let go a little later to be sure.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
