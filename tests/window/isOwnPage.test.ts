import type { WebContents, WebFrameMain } from "electron";
import { expect, test } from "vitest";
import { isOwnPage } from "../../electron/window/isOwnPage.ts";

const contents = { id: 7 } as WebContents;
const frame = (url: string, parent: object | null = null) => ({ url, parent }) as unknown as WebFrameMain;
const own = frame("app://borewright/index.html");

test("the window's own outermost frame on the page's own address is the page", () => {
  expect(isOwnPage({ sender: contents, senderFrame: own }, contents)).toBe(true);
});

test.each([
  ["a frame that has gone", { sender: contents, senderFrame: null }],
  ["another window", { sender: { id: 8 } as WebContents, senderFrame: own }],
  ["a frame within the page", { sender: contents, senderFrame: frame("app://borewright/index.html", own) }],
  ["another host", { sender: contents, senderFrame: frame("app://borewright.example/index.html") }],
  ["another scheme", { sender: contents, senderFrame: frame("https://borewright/index.html") }],
  ["a file", { sender: contents, senderFrame: frame("file:///index.html") }],
  ["an address with a name in it", { sender: contents, senderFrame: frame("app://borewright@elsewhere/") }],
  ["no address", { sender: contents, senderFrame: frame("") }],
])("%s is not", (_name, event) => {
  expect(isOwnPage(event, contents)).toBe(false);
});

test("without a window nobody is", () => {
  expect(isOwnPage({ sender: contents, senderFrame: own }, null)).toBe(false);
});
