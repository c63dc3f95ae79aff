import type { Ms } from "../gauge/ms.ts";
import type { Notice, NoticeCode } from "./notice.ts";

/** Where a notice belongs; two notices of one code at one place are the same trouble. */
export interface NoticeWhere {
  readonly gauge?: string;
  readonly bore?: string;
  readonly height?: string;
  readonly clock?: string;
}

const sameWhere = (a: NoticeWhere, b: NoticeWhere): boolean =>
  a.gauge === b.gauge && a.bore === b.bore && a.height === b.height && a.clock === b.clock;

/** The standing and the cured notices of a session, in the order they were raised. */
export class NoticeBoard {
  #notices: Notice[] = [];

  get all(): readonly Notice[] {
    return this.#notices;
  }

  /** Raises a notice; null if the same trouble already stands at the same place. */
  raise(tMs: Ms, code: NoticeCode, text: string, where: NoticeWhere = {}): Notice | null {
    if (this.stands(code, where)) return null;
    const notice: Notice = { tMs, code, text, ...where };
    this.#notices.push(notice);
    return notice;
  }

  /** Whether this trouble stands at this place. */
  stands(code: NoticeCode, where: NoticeWhere = {}): boolean {
    return this.#notices.some((other) => other.code === code && other.curedMs === undefined && sameWhere(other, where));
  }

  /** Marks every standing notice of `code` that `which` accepts as cured; returns the cured ones. */
  cure(tMs: Ms, code: NoticeCode, which: (notice: Notice) => boolean = () => true): Notice[] {
    const cured: Notice[] = [];
    this.#notices = this.#notices.map((notice) => {
      if (notice.code !== code || notice.curedMs !== undefined || !which(notice)) return notice;
      const done = { ...notice, curedMs: tMs };
      cured.push(done);
      return done;
    });
    return cured;
  }
}
