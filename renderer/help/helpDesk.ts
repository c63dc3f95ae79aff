import { create } from "zustand";
import type { NoticeCode } from "../../core/session/notice.ts";

/** The parts of the help. */
export const TOPICS = [
  { value: "method", text: "How it is done" },
  { value: "places", text: "The places" },
  { value: "notices", text: "When a notice stands" },
  { value: "words", text: "The words" },
  { value: "keys", text: "Keys and signs" },
  { value: "cautions", text: "Cautions" },
] as const;

export type Topic = (typeof TOPICS)[number]["value"];

export interface HelpDesk {
  readonly open: boolean;
  readonly topic: Topic;
  /** The notice whose entry was asked for; null for none. */
  readonly code: NoticeCode | null;
  /** Counts the askings, so that asking again for the same shows it again. */
  readonly asked: number;
}

export const useHelp = create<HelpDesk>()(() => ({ open: false, topic: "method", code: null, asked: 0 }));

/** What had the focus when the help was opened: it goes back there. */
let opener: Element | null = null;

/** Opens the help where it was left, or at a topic. */
export function openHelp(topic?: Topic): void {
  const { open, asked, ...at } = useHelp.getState();
  if (!open) opener = document.activeElement;
  useHelp.setState({
    open: true,
    topic: topic ?? at.topic,
    code: topic === undefined ? at.code : null,
    asked: asked + 1,
  });
}

/** Opens the help at the entry of a notice. */
export function openHelpOn(code: NoticeCode): void {
  openHelp("notices");
  useHelp.setState({ code });
}

export function closeHelp(): void {
  useHelp.setState({ open: false });
  if (opener instanceof HTMLElement && opener.isConnected) opener.focus();
  opener = null;
}
