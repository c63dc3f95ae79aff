/** What goes wrong while the gauge is at one station for the first time; passes are counted from 0. */
export interface Mishap {
  /** So many first passes are rocked too quickly for the display. */
  readonly quickPasses?: number;
  /** So many passes after the first lose contact over an oil hole. */
  readonly holePasses?: number;
  /** So many first passes scatter, as with dirt that moves about. */
  readonly scatteredPasses?: number;
  /** This one pass has dirt under a contact: the gauge reads this much off, nm, signed. */
  readonly dirtyPass?: { readonly index: number; readonly nm: number };
  /** After the first pass the display stands still for so long, ms. */
  readonly frozenMs?: number;
  /** The plunger sticks at the inner end of its travel for so long (ms) or, with a data button, so many presses. */
  readonly stuck?: { readonly ms: number; readonly presses: number };
  /** Before the gauge goes in it is knocked: its zero moves by this much, nm, signed. */
  readonly knockNm?: number;
}
