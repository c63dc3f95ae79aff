import { create } from "zustand";
import { type ParcelCheck, parcelCheckSchema } from "../../core/report/parcelSchema.ts";
import { useStore } from "../store/store.ts";
import { fileAsBase64 } from "./base64.ts";

/** A parcel from elsewhere that is being looked at; going to another place and back keeps it. */
export interface Received {
  readonly name: string;
  readonly content: string;
  /** Null while the checks run. */
  readonly checked: {
    readonly check: ParcelCheck;
    readonly notes: readonly string[];
    readonly title: string;
    readonly block: string;
  } | null;
}

export const useReceived = create<{ readonly parcel: Received | null }>()(() => ({ parcel: null }));

/** Checks a parcel's file; what it comes to stands at Handover. */
export async function checkParcel(file: File): Promise<void> {
  await check({ name: file.name, content: await fileAsBase64(file) }, {});
}

/** The same for a parcel that the host has read: its name and its bytes in base64. */
export async function checkGivenParcel(parcel: Pick<Received, "name" | "content">): Promise<void> {
  await check(parcel, {});
}

/** Checks the parcel at hand again, and remembers the key that signed it, or accepts it in place of another. */
export async function keepSigner(wish: { readonly remember?: boolean; readonly accept?: string }): Promise<void> {
  const { parcel } = useReceived.getState();
  if (parcel !== null) await check(parcel, wish);
}

export function putAway(): void {
  useReceived.setState({ parcel: null });
}

async function check(
  { name, content }: Pick<Received, "name" | "content">,
  wish: { readonly remember?: boolean; readonly accept?: string },
): Promise<void> {
  const before = useReceived.getState().parcel;
  useReceived.setState({ parcel: { name, content, checked: null } });
  const answer = await useStore.getState().actions.call("parcel.open", { content, ...wish });
  const parsed = answer === null ? null : parcelCheckSchema.safeParse(answer.check);
  if (answer === null || parsed === null || !parsed.success) {
    // Why it was refused stands at the top of the window.
    useReceived.setState({ parcel: before?.content === content ? before : null });
    return;
  }
  const { notes, title, block } = answer;
  useReceived.setState({ parcel: { name, content, checked: { check: parsed.data, notes, title, block } } });
}
