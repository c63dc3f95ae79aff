import { PairingError } from "../../core/pairing/pairingError.ts";
import { pairLifters } from "../../core/pairing/pairLifters.ts";
import type { Order } from "./everyOrder.ts";
import type { RandomBlock } from "./randomBlocks.ts";

/** The order that the pairing gives; null where the rules clash. */
export function pairedOrder(block: RandomBlock): Order | null {
  try {
    return pairLifters(block).map(({ lifter }) => block.lifters.indexOf(lifter ?? ""));
  } catch (error) {
    if (error instanceof PairingError && error.trouble === "clash") return null;
    throw error;
  }
}
