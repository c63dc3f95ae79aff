import { readFile, realpath } from "node:fs/promises";
import { extname, join, sep } from "node:path";

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

export interface PageFile {
  readonly type: string;
  readonly content: Buffer;
}

/** The page's file at `pathname`, below `folder` also after links are followed; null for anything else. */
export async function readPageFile(folder: string, pathname: string): Promise<PageFile | null> {
  let segments: string[];
  try {
    segments = decodeURIComponent(pathname).split("/").slice(1);
  } catch {
    return null;
  }
  if (segments.some((segment) => segment === "" || segment.startsWith(".") || /[\\:\0]/.test(segment))) return null;
  const type = TYPES[extname(segments.at(-1) ?? "").toLowerCase()];
  if (type === undefined) return null;
  try {
    const top = await realpath(folder);
    const path = await realpath(join(top, ...segments));
    return path.startsWith(top + sep) ? { type, content: await readFile(path) } : null;
  } catch {
    return null;
  }
}
