import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { MethodInput, MethodName, MethodOutput } from "../../core/bridge/messages.ts";
import { type ParcelCheck, parcelCheckSchema } from "../../core/report/parcelSchema.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "../session/walkFeed.ts";

const job = { format: "borewright/job", version: 1, title: "Two bores", walk: ["1I", "1E"], returnCheckEvery: 2 };
const { text } = walkFeed(job, simulateFeed(parseJob(job), { seed: 3, readingsPerSecond: 10 }).lines);

let folder: string;
let host: HostService;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-handover-"));
  await writeFile(join(folder, "two.bwsession"), text);
  host = await HostService.open({ shell: "loopback", folder });
  await call("session.open", { id: "two.bwsession", readOnly: true });
});
afterEach(async () => {
  await host.close();
  await rm(folder, { recursive: true, force: true });
});

async function call<M extends MethodName>(method: M, input: MethodInput<M>, mayAct = true): Promise<MethodOutput<M>> {
  const answer = await host.call(method, input, { mayAct });
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
  return answer.value as MethodOutput<M>;
}

const checked = async (input: MethodInput<"parcel.open">, mayAct = true): Promise<ParcelCheck> =>
  parcelCheckSchema.parse((await call("parcel.open", input, mayAct)).check);

describe("the parcel over the bridge", () => {
  it("is packed, checked as intact, and its session taken in byte for byte", async () => {
    const { name, content, signedBy, keyMadeAt } = await call("session.handover", {});
    expect([name, signedBy, keyMadeAt]).toEqual(["two.bwparcel", null, null]);
    const check = await checked({ content });
    expect([check.outcome, check.shop]).toEqual(["intact", null]);
    const { id } = await call("parcel.adopt", { name, content });
    expect(id).not.toBe("two.bwsession");
    await call("session.open", { id, readOnly: true });
    expect((await call("session.export", { kind: "session" })).content).toBe(text);
  });

  it("is signed with a key made on first use, which is known once it was remembered", async () => {
    await expect(call("session.handover", { sign: true })).rejects.toThrow("shop-key");
    const first = await call("session.handover", { sign: true, shop: "The test bench" });
    expect(first.keyMadeAt).toContain(folder);
    const second = await call("session.handover", { sign: true });
    expect(second).toMatchObject({ content: first.content, keyMadeAt: null });
    const { content } = first;
    expect((await checked({ content, remember: true }, false)).outcome).toBe("signed-new");
    expect((await checked({ content })).outcome).toBe("signed-new");
    expect((await checked({ content, remember: true })).outcome).toBe("signed-known");
    expect((await checked({ content })).outcome).toBe("signed-known");
    await expect(call("parcel.open", { content, accept: "0000" })).rejects.toThrow("other-key");
  });

  it("is refused when a byte was changed, and nothing of it is taken in", async () => {
    const { content } = await call("session.handover", {});
    const bytes = Buffer.from(content, "base64");
    bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] as number) ^ 1;
    const damaged = bytes.toString("base64");
    expect(["changed", "unreadable"]).toContain((await checked({ content: damaged })).outcome);
    const sessions = async () => (await readdir(folder)).filter((name) => name.endsWith(".bwsession"));
    await expect(call("parcel.adopt", { name: "x.bwparcel", content: damaged })).rejects.toThrow("not-intact");
    await expect(call("parcel.adopt", { name: "x.bwparcel", content: "no zip" })).rejects.toThrow("not-intact");
    expect(await sessions()).toEqual(["two.bwsession"]);
  });

  it("the report holds every bore, and who may only look may read it but sign nothing", async () => {
    const { html } = await call("session.report", { unitFirst: "um" }, false);
    for (const bore of ["1I", "1E"]) expect(html).toContain(bore);
    expect(html).not.toMatch(/<script/i);
    await expect(call("session.handover", { sign: true, shop: "x" }, false)).rejects.toThrow("may-not-act");
  });
});
