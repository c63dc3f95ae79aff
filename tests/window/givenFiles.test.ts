import { EventEmitter } from "node:events";
import type { App } from "electron";
import { expect, test } from "vitest";
import { filesAmong, GivenFiles } from "../../electron/window/givenFiles.ts";

test("of the words of a start only sessions and parcels count, as whole paths", () => {
  const words = [
    "/opt/program/borewright",
    "--user-data-dir=/a.bwsession",
    "-x.bwparcel",
    ".",
    "walk.bwsession",
    "../b/Parcel.BWPARCEL",
    "/c/d.bwsession",
    "/c/d.bwsession",
    "file:///e/f%20g.bwparcel",
    "file://elsewhere.example/e/f.bwparcel",
    "https://elsewhere.example/f.json",
    "/etc/passwd",
    "",
    7,
    null,
  ];
  expect(filesAmong(words, "/shop/today")).toEqual([
    "/shop/today/walk.bwsession",
    "/shop/b/Parcel.BWPARCEL",
    "/c/d.bwsession",
    "/e/f g.bwparcel",
  ]);
  const many = Array.from({ length: 500 }, (_, n) => `/a/${n}.bwsession`);
  expect(filesAmong(many, "/")).toHaveLength(20);
});

test("files wait in order until there is a page, and go to it at once from then on", () => {
  const app = new EventEmitter();
  const files = new GivenFiles(app as unknown as App, ["/a.bwsession"]);
  let prevented = 0;
  const open = (path: string) => app.emit("open-file", { preventDefault: () => (prevented += 1) }, path);
  open("/b.bwparcel");
  open("/etc/passwd");
  const given: string[] = [];
  files.to((path) => given.push(path));
  expect(given).toEqual(["/a.bwsession", "/b.bwparcel"]);
  open("/c.bwsession");
  app.emit("second-instance", {}, ["--x", "/not/this.bwsession"], "/", { files: ["/d.bwsession"] });
  expect(given).toEqual(["/a.bwsession", "/b.bwparcel", "/c.bwsession", "/d.bwsession"]);
  expect(prevented).toBe(3);
});

test.each([[undefined], [null], [7], [{}], [{ files: "/a.bwsession" }], [{ files: [{}, 7, "/etc/passwd"] }]])(
  "what another start tells that makes no sense (%j) gives nothing",
  (told) => {
    const app = new EventEmitter();
    const given: string[] = [];
    new GivenFiles(app as unknown as App, []).to((path) => given.push(path));
    app.emit("second-instance", {}, [], "/", told);
    expect(given).toEqual([]);
  },
);
