import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { CONTENT_POLICY } from "../../electron/window/contentPolicy.ts";
import { servePage } from "../../electron/window/servePage.ts";

let folder: string;
let get: (path: string, method?: string) => Promise<Response>;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "page-"));
  mkdirSync(join(folder, "page/assets"), { recursive: true });
  writeFileSync(join(folder, "page/index.html"), "<title>page</title>");
  writeFileSync(join(folder, "page/assets/a b.js"), "1");
  writeFileSync(join(folder, "page/.hidden.js"), "secret");
  writeFileSync(join(folder, "page/notes.txt"), "secret");
  writeFileSync(join(folder, "secret.js"), "secret");
  mkdirSync(join(folder, "page-beside"));
  writeFileSync(join(folder, "page-beside/secret.js"), "secret");
  symlinkSync(join(folder, "secret.js"), join(folder, "page/link.js"));
  const serve = servePage(join(folder, "page"));
  get = (path, method = "GET") => serve(new Request(`app://borewright${path}`, { method }));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test("gives the page's files with their kinds, and the policy with every answer", async () => {
  const page = await get("/index.html");
  expect(page.status).toBe(200);
  expect(page.headers.get("content-type")).toBe("text/html; charset=utf-8");
  expect(await page.text()).toBe("<title>page</title>");
  expect((await get("/assets/a%20b.js")).headers.get("content-type")).toBe("text/javascript; charset=utf-8");
  for (const path of ["/index.html", "/absent.js", "/..%2fsecret.js"])
    expect((await get(path)).headers.get("content-security-policy")).toBe(CONTENT_POLICY);
});

test.each([
  ["/..%2fsecret.js", 400],
  ["/assets/..%2f..%2fsecret.js", 400],
  ["/..%2fpage-beside%2fsecret.js", 400],
  ["/..%5csecret.js", 400],
  ["/assets%2f%2fa%20b.js", 400],
  ["/%00.js", 400],
  ["/%zz.js", 400],
  ["/C:%5csecret.js", 400],
  ["/.hidden.js", 400],
  ["/link.js", 403],
  ["/notes.txt", 404],
  ["/absent.js", 404],
  ["/assets", 404],
])("refuses %s with %i", async (path, status) => {
  const answer = await get(path);
  expect(answer.status).toBe(status);
  expect(await answer.text()).toBe("");
});

test("refuses other hosts, other schemes and anything but reading", async () => {
  const serve = servePage(join(folder, "page"));
  for (const address of [
    "app://elsewhere/index.html",
    "https://borewright/index.html",
    "app://a:b@borewright/index.html",
  ])
    expect((await serve({ url: address, method: "GET" } as Request)).status, address).toBe(403);
  for (const method of ["POST", "PUT", "DELETE", "HEAD"]) expect((await get("/index.html", method)).status).toBe(405);
});
