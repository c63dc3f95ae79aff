import { once } from "node:events";
import { ReadlineParser } from "serialport";
import { createLineReader } from "../../core/gauge/lineReader.ts";
import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import { toNm } from "../../core/length/nm.ts";
import { byTurnsWaiting, fixed } from "./measure.ts";

const LINES = 200_000;
/** Bytes as a port gives them out. */
const PIECE = 64;

/** From bytes to readings, beside the serial library's own line parser and Number() on the same bytes. */
export async function parsingTable() {
  const lines = Array.from({ length: LINES }, (_, index) => `+0.${String(index % 100_000).padStart(5, "0")}`);
  const bytes = Buffer.from(`${lines.join("\r\n")}\r\n`, "latin1");
  const pieces: Buffer[] = [];
  for (let at = 0; at < bytes.length; at += PIECE) pieces.push(bytes.subarray(at, at + PIECE));

  const ours = async () => {
    const splitter = new LineSplitter();
    const reader = createLineReader({
      id: "bore",
      role: "bore",
      sends: "stream",
      unit: "in",
      resolutionNm: toNm(1270),
      polarity: 1,
      line: "auto",
    });
    let understood = 0;
    for (const piece of pieces) for (const line of splitter.push(piece)) if (reader.read(line).ok) understood += 1;
    if (understood !== LINES) throw new Error(`${understood} lines understood of ${LINES}`);
  };
  const theirs = async () => {
    const parser = new ReadlineParser({ delimiter: "\r\n", encoding: "latin1" });
    let numbers = 0;
    parser.on("data", (line: string) => {
      if (Number.isFinite(Number(line))) numbers += 1;
    });
    for (const piece of pieces) parser.write(piece);
    parser.end();
    await once(parser, "end");
    if (numbers !== LINES) throw new Error(`${numbers} numbers read of ${LINES}`);
  };
  const [ownMs, otherMs] = await byTurnsWaiting(ours, theirs, 3);
  return [
    {
      lines: LINES,
      "ms bytes to nanometres": fixed(ownMs, 0),
      "ms parser-readline and Number": fixed(otherMs, 0),
      "µs a line": fixed((1000 * ownMs) / LINES, 2),
      ratio: fixed(ownMs / otherMs, 2),
    },
  ];
}
