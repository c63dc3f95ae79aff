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
  /**
   * After the first sweep that is heard the person is not content, takes the gauge out and strikes: once takes back that sweep, twice
   * goes back one station more. With a data button by presses in the air, with a stream by the foot switch.
   */
  readonly strikes?: 1 | 2;
  /** Before the gauge goes in it is knocked: its zero moves by this much, nm, signed. */
  readonly knockNm?: number;
}
