import type { ReactNode } from "react";
import styles from "./HelpPanel.module.css";
import { PlanesDrawing } from "./PlanesDrawing.tsx";
import { RockingDrawing } from "./RockingDrawing.tsx";

/** The method in plain words: set, zero, rock, keep the smallest, and why each. */
export function MethodHelp(): ReactNode {
  return (
    <>
      <ol className={styles.steps}>
        <li>
          <h3>Set the micrometer to the lifter, and lock it</h3>
          <p>
            Close it on a full-diameter band, away from grooves and holes. From here on the micrometer is the lifter:
            its scale may be wrong, and nothing is lost by it, since only the difference to the bore counts.
          </p>
        </li>
        <li>
          <h3>Zero the bore gauge in it</h3>
          <p>
            Rock the gauge between the faces, in both directions, since flat faces hold it in neither. The smallest
            reading is the zero. What the gauge shows in a bore after that, less the zero, is the clearance.
          </p>
          <PlanesDrawing />
        </li>
        <li>
          <h3>Prove it by a step</h3>
          <p>
            Open the micrometer by exactly 0.0010 in (or 0.02 mm) and rock once more. The answer must be that step: this
            proves which way the gauge counts, in which unit and by how much, and that nothing holds its reading. Then
            close it on the lifter again.
          </p>
        </li>
        <li>
          <h3>Rock the gauge in the bore, and keep the smallest</h3>
          <p>
            A gauge that is tilted spans further than the diameter, so it always reads long. As it is rocked the reading
            falls, turns, and rises again: where it turns, the gauge is square, and only that reading is true.
          </p>
          <RockingDrawing />
          <p>
            A display shows a few readings a second and mostly misses the turn itself. With a gauge that streams, the
            turning point is fitted through the readings on both sides of it.
          </p>
        </li>
        <li>
          <h3>Do it again until it agrees</h3>
          <p>
            The smallest number alone proves nothing: off the axis a gauge reads short, and a spike can be the smallest
            of all. A station is good when three sweeps in a row agree. Keep off oil holes, and let the centring foot
            sit.
          </p>
        </li>
        <li>
          <h3>Return to the micrometer now and then</h3>
          <p>
            If the gauge still shows its zero there, everything between was measured with it. If it does not, the zero
            moved, and the bores since the last check that held are measured again.
          </p>
        </li>
      </ol>
      <p>
        The allowed band can be six ten-thousandths of an inch (15 µm) wide. A caliper cannot decide that, and a
        telescoping gauge can be off by more than all of it (common practice, no source).
      </p>
    </>
  );
}
