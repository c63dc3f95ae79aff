import type { Ms } from "../gauge/ms.ts";
import type { Notice, NoticeCode } from "./notice.ts";

/** Where a notice belongs; two notices of one code at one place are the same trouble. */
export interface NoticeWhere {
  readonly gauge?: string;
  readonly bore?: string;
  readonly height?: string;
  readonly clock?: string;
}

/**
 * So many of one code at one place are listed, the first and the newest. Our choice: a loose cable raises one and cures
 * it again several times a second, all day.
 */
const MOST_ALIKE = 20;

const sameWhere = (a: NoticeWhere, b: NoticeWhere): boolean =>
  a.gauge === b.gauge && a.bore === b.bore && a.height === b.height && a.clock === b.clock;

/** The standing and the cured notices of a session, in the order they were raised. */
export class NoticeBoard {
  #notices: Notice[] = [];
  /** Where the standing ones are, rising: few stand at a time, while a garbled line leaves thousands of cured ones. */
  #standing: number[] = [];
  #shown: readonly Notice[] | null = null;

  get all(): readonly Notice[] {
    this.#shown ??= [...this.#notices];
    return this.#shown;
  }

  /** Raises a notice; null if the same trouble already stands at the same place. */
  raise(tMs: Ms, code: NoticeCode, text: string, where: NoticeWhere = {}): Notice | null {
    if (this.stands(code, where)) return null;
    const alike = this.#notices.filter((other) => other.code === code && sameWhere(other, where));
    const unlisted = alike.length < MOST_ALIKE ? 0 : (alike.at(-1)?.unlisted ?? 0) + 1;
    const notice: Notice = { tMs, code, text, ...where, ...(unlisted === 0 ? {} : { unlisted }) };
    if (unlisted > 0) this.#makeRoom(alike[1], alike.at(-1));
    this.#standing.push(this.#notices.length);
    this.#notices.push(notice);
    this.#shown = null;
    return notice;
  }

  /** Whether this trouble stands at this place. */
  stands(code: NoticeCode, where: NoticeWhere = {}): boolean {
    return this.#standing.some((index) => {
      const notice = this.#notices[index] as Notice;
      return notice.code === code && sameWhere(notice, where);
    });
  }

  /** Marks every standing notice of `code` that `which` accepts as cured; returns the cured ones. */
  cure(tMs: Ms, code: NoticeCode, which: (notice: Notice) => boolean = () => true): Notice[] {
    const cured: Notice[] = [];
    for (const index of this.#standing) {
      const notice = this.#notices[index] as Notice;
      if (notice.code !== code || !which(notice)) continue;
      const done = { ...notice, curedMs: tMs };
      cured.push(done);
      this.#notices[index] = done;
    }
    if (cured.length === 0) return cured;
    this.#standing = this.#standing.filter((index) => (this.#notices[index] as Notice).curedMs === undefined);
    this.#shown = null;
    return cured;
  }

  /** Lists `dropped` no longer; how many those are is told by the newest alone, no longer by `last`. */
  #makeRoom(dropped: Notice | undefined, last: Notice | undefined): void {
    this.#notices = this.#notices.flatMap((notice) => {
      if (notice === dropped) return [];
      if (notice !== last) return [notice];
      const { unlisted: _, ...plain } = notice;
      return [plain];
    });
    this.#standing = this.#notices.flatMap(({ curedMs }, index) => (curedMs === undefined ? [index] : []));
  }
}
