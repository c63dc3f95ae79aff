/** The records of a session file as a feed's: what the gauges sent, their ports, and the steps. */
export function asFeed(session: string): string {
  const records = session.split("\n").filter((line) => line !== "");
  const feed = records.flatMap((line): object[] => {
    const { t, type, gauge, line: text, link, step, lifter, openedNm } = JSON.parse(line);
    if (type === "line") return [{ t, gauge, line: text }];
    if (type === "link") return [{ t, gauge, link }];
    if (type !== "step") return [];
    return [
      {
        t,
        step,
        ...(lifter === undefined ? {} : { lifter }),
        ...(openedNm === undefined ? {} : { opened: `${openedNm / 1000} um` }),
      },
    ];
  });
  return `${feed.map((record) => JSON.stringify(record)).join("\n")}\n`;
}
