const SIMULATED = "simulated:";

/** Where a gauge that is not there is connected, for the record: what follows tells the session's readers for ever. */
export function simulatedPath(gauge: string): string {
  return `${SIMULATED}${gauge}`;
}

/** The gauge's id when the path is that of a simulated gauge; null for any other path, or none. */
export function simulatedGauge(path: string | undefined): string | null {
  return path?.startsWith(SIMULATED) ? path.slice(SIMULATED.length) : null;
}
