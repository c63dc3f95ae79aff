import { readFile, realpath } from "node:fs/promises";
import { extname, join, relative, sep } from "node:path";
import { CONTENT_POLICY } from "./contentPolicy.ts";
import { isPageAddress } from "./pageAddress.ts";

/** The kinds of files the page is made of; no other kind is given out. */
const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".ico": "image/x-icon",
  ".woff2": "font/woff2",
};

const HEADERS = {
  "content-security-policy": CONTENT_POLICY,
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "cache-control": "no-cache",
};

const refuse = (status: number) =>
  new Response(null, { status, headers: { ...HEADERS, "content-type": "text/plain; charset=utf-8" } });

/** The path of an address, segment by segment; null when one of them is not a plain file name. */
function segmentsOf(address: string): string[] | null {
  try {
    const segments = decodeURIComponent(new URL(address).pathname).split("/").slice(1);
    const plain = segments.every((segment) => segment !== "" && !segment.startsWith(".") && !/[\\:\0]/.test(segment));
    return plain ? segments : null;
  } catch {
    return null;
  }
}

/**
 * Answers the page's requests with the files below `folder`: 200, or 400 for an address that is none, 403 for one that
 * leads out of the folder (over links as well), 404 for what is not there or not of the page's kinds, 405 for anything
 * but reading. Every answer carries the content policy.
 */
export function servePage(folder: string): (request: Request) => Promise<Response> {
  return async (request) => {
    if (request.method !== "GET") return refuse(405);
    if (!isPageAddress(request.url)) return refuse(403);
    const segments = segmentsOf(request.url);
    if (segments === null) return refuse(400);
    const type = TYPES[extname(segments.at(-1) ?? "").toLowerCase()];
    if (type === undefined) return refuse(404);
    try {
      const top = await realpath(folder);
      const path = await realpath(join(top, ...segments));
      const within = relative(top, path);
      if (within.split(sep)[0] === "..") return refuse(403);
      return new Response(await readFile(path), { headers: { ...HEADERS, "content-type": type } });
    } catch {
      return refuse(404);
    }
  };
}
