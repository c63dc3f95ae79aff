import { mkdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { shopName } from "../../core/report/parcelSchema.ts";
import { z } from "../../core/zod.ts";
import { writeWhole } from "./safeFiles.ts";

/** What is known of a key under a name. */
export type KeyStanding = "known" | "new" | "other-key";

const bookSchema = z.strictObject({
  format: z.literal("borewright/known-shops"),
  version: z.literal(1),
  shops: z.array(
    z.strictObject({
      name: shopName,
      key: z.string(),
      /** When it was first seen, ISO 8601. */
      since: z.string(),
      /** Keys that this name had before and that a person has replaced. */
      former: z.array(z.string()),
    }),
  ),
});
type Book = z.infer<typeof bookSchema>;

/** Two names that look the same are one: form, case, blanks and signs that cannot be seen do not tell them apart. */
const folded = (name: string): string =>
  name
    .normalize("NFKC")
    .replace(/\p{Cf}/gu, "")
    .replace(/\s+/gu, " ")
    .trim()
    .toLowerCase();

/** Where the keys of other shops are remembered in the data folder. */
export const shopKeyBookPath = (folder: string): string => join(folder, "known-shops.json");

/**
 * The keys of other shops by name, trusted on first use: the first key seen under a name is remembered, and another one
 * under the same name later is told of, loudly.
 */
export class ShopKeyBook {
  readonly #path: string | null;
  #book: Book;
  /** Why the file could not be read; then nothing is known and nothing is written over it. */
  readonly trouble: string | null;

  private constructor(path: string | null, book: Book, trouble: string | null) {
    this.#path = path;
    this.#book = book;
    this.trouble = trouble;
  }

  /** A book that knows nothing and is kept nowhere. */
  static empty(): ShopKeyBook {
    return new ShopKeyBook(null, { format: "borewright/known-shops", version: 1, shops: [] }, null);
  }

  static async read(folder: string): Promise<ShopKeyBook> {
    const path = shopKeyBookPath(folder);
    const none: Book = { format: "borewright/known-shops", version: 1, shops: [] };
    try {
      return new ShopKeyBook(path, bookSchema.parse(JSON.parse(await readFile(path, "utf8"))), null);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === "ENOENT") return new ShopKeyBook(path, none, null);
      return new ShopKeyBook(path, none, `${path} cannot be read, so no key is known; restore it or move it away`);
    }
  }

  /** What is known of this key (base64) under this name. */
  standing(name: string, key: string): KeyStanding {
    const known = this.#find(name);
    if (known === undefined) return "new";
    return known.key === key ? "known" : "other-key";
  }

  /** Remembers the first key seen under a name; one already there stays. @param nowIso when, ISO 8601 */
  async remember(name: string, key: string, nowIso: string): Promise<void> {
    if (this.#find(name) !== undefined) return;
    await this.#write({ ...this.#book, shops: [...this.#book.shops, { name, key, since: nowIso, former: [] }] });
  }

  /** Takes another key for a name, as a person has compared it with its owner. @param nowIso when, ISO 8601 */
  async replace(name: string, key: string, nowIso: string): Promise<void> {
    const known = this.#find(name);
    const others = this.#book.shops.filter((shop) => shop !== known);
    const former = known === undefined ? [] : [...known.former, known.key];
    await this.#write({ ...this.#book, shops: [...others, { name, key, since: nowIso, former }] });
  }

  #find(name: string) {
    return this.#book.shops.find((shop) => folded(shop.name) === folded(name));
  }

  async #write(book: Book): Promise<void> {
    if (this.trouble !== null) throw new Error(this.trouble);
    this.#book = book;
    if (this.#path === null) return;
    await mkdir(join(this.#path, ".."), { recursive: true, mode: 0o700 });
    await writeWhole(this.#path, `${JSON.stringify(book, null, 2)}\n`, true, 0o600);
  }
}
