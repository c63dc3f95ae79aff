/** A time since the start of the session (ms) as hours, minutes and seconds: "0:12:05". */
export function elapsed(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const two = (value: number) => String(value).padStart(2, "0");
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
}

/** In whose words a date is written; without either, as year-month-day in universal time. */
export interface DateChoice {
  readonly locale?: string;
  readonly timeZone?: string;
}

/**
 * A date and time (ISO 8601) in words. A text that is no date is printed as it stands.
 * @throws RangeError for a locale or time zone that there is not.
 */
export function dateText(iso: string, choice: DateChoice): string {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return iso;
  const { locale, timeZone } = choice;
  if (locale === undefined && timeZone === undefined) return `${date.toISOString().slice(0, 16).replace("T", " ")} UTC`;
  return new Intl.DateTimeFormat(locale ?? "en-GB", {
    year: "numeric",
    month: "long",
    day: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    timeZone: timeZone ?? "UTC",
    timeZoneName: "short",
  }).format(date);
}
