import type { Job, JobGauge } from "../../core/session/job.ts";
import type { SerialPortSettings } from "../host/serialGaugePort.ts";
import { WrongUse } from "./io.ts";

/** A gauge of the job and the port to listen to it on. */
export interface GaugeOnPort {
  readonly gauge: string;
  readonly profile: JobGauge;
  readonly settings: SerialPortSettings;
}

/** Reads `ID=PATH[,BAUD[,8N1]]`; what is left out comes from the job, or is 9600 and 8N1. @throws WrongUse */
export function parsePort(given: string, job: Job): GaugeOnPort {
  const wrong = (what: string) => new WrongUse(`walk: --port ${given}: ${what}; expected ID=PATH[,BAUD[,8N1]]`);
  const equals = given.indexOf("=");
  if (equals < 1) throw wrong("no gauge named");
  const gauge = given.slice(0, equals);
  const profile = job.gauges.find((entry) => entry.id === gauge);
  if (profile === undefined) {
    throw wrong(`the job has no gauge "${gauge}" (it has ${job.gauges.map((entry) => entry.id).join(", ")})`);
  }
  const [path = "", baudText, framing = profile.serial?.framing ?? "8N1", ...rest] = given.slice(equals + 1).split(",");
  if (path === "") throw wrong("no path");
  if (rest.length > 0) throw wrong(`found "${rest.join(",")}" at the end`);
  const baud = baudText === undefined ? (profile.serial?.baud ?? 9600) : Number(baudText);
  if (!Number.isInteger(baud) || baud < 50 || baud > 4_000_000) throw wrong(`found speed "${baudText}"`);
  if (!/^[78][NEO][12]$/.test(framing)) throw wrong(`found framing "${framing}"`);
  const { dtr = true, rts = true } = profile.serial ?? {};
  return { gauge, profile, settings: { path, baud, framing, dtr, rts } };
}
