import { type ReactNode, useState } from "react";
import type { Nm } from "../../core/length/nm.ts";
import type { ParcelCheck } from "../../core/report/parcelSchema.ts";
import { type Result, resultSchema } from "../../core/report/result.ts";
import { Button } from "../parts/Button.tsx";
import { classNames } from "../parts/classNames.ts";
import { Field } from "../parts/Field.tsx";
import { FileButton } from "../parts/FileButton.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import table from "../parts/table.module.css";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { openSession } from "../start/openSession.ts";
import { useStore } from "../store/store.ts";
import styles from "./handover.module.css";
import { checkParcel, keepSigner, putAway, type Received, useReceived } from "./receivedParcel.ts";

/** A parcel from another shop: checked from end to end before anything of it is shown. */
export function ReceivedParcel(): ReactNode {
  const parcel = useReceived((state) => state.parcel);
  return (
    <section className={styles.part} aria-labelledby="received-heading">
      <h2 id="received-heading">A parcel received</h2>
      <p>
        Everything in it is checked before anything of it is shown: the archive, every file by its sum, every seal of
        the record, the signature, and that the findings are what the raw lines give. Nothing in it is run.
      </p>
      <div className={styles.buttons}>
        <FileButton label="Parcel file" accept=".bwparcel" onFile={(file) => void checkParcel(file)}>
          Check a parcel
        </FileButton>
        {parcel === null ? null : <Button onClick={putAway}>Put it away</Button>}
      </div>
      <div role="status">{parcel === null ? null : <Shown parcel={parcel} />}</div>
    </section>
  );
}

/** What a check came to: a mark told by its shape, and the words. */
function outcomeOf({ outcome, shop, why }: ParcelCheck): { readonly mark: string; readonly text: string } {
  switch (outcome) {
    case "signed-known":
      return { mark: "●", text: `Intact, and signed by a known key of ${shop?.name}.` };
    case "signed-new":
      return shop?.key === "other-key"
        ? { mark: "▲", text: `Intact, but signed by another key than the one known for ${shop.name}.` }
        : { mark: "◐", text: `Intact, and signed by a key of ${shop?.name} that was never seen here before.` };
    case "intact":
      return { mark: "◐", text: "Intact, and not signed: who it comes from is not proven." };
    case "changed":
      return { mark: "×", text: "CHANGED since it was made. Nothing of its content is shown." };
    case "unreadable":
      return { mark: "×", text: `Not readable as a parcel: ${why ?? "for no reason given"}.` };
  }
}

function Shown({ parcel }: { readonly parcel: Received }): ReactNode {
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const call = useStore((state) => state.actions.call);
  if (parcel.checked === null) return <p>Checking {parcel.name} …</p>;
  const { check, notes, title, block } = parcel.checked;
  const { mark, text } = outcomeOf(check);
  const result = check.result === null ? null : resultSchema.safeParse(check.result);
  const adopt = async () => {
    const { name, content } = parcel;
    const adopted = await call("parcel.adopt", { name, content });
    if (adopted !== null) await openSession(adopted.id, true);
  };
  return (
    <div className={styles.received}>
      <p className={styles.outcome}>
        <span aria-hidden="true">{mark}</span> {text}
      </p>
      <ul className={styles.list}>
        {check.changes.map(({ where, what }) => (
          <li key={`${where} ${what}`}>
            <strong>{where}</strong>: {what}
          </li>
        ))}
        {check.warnings.map((warning) => (
          <li key={warning}>
            <strong>▲ {warning}</strong>
          </li>
        ))}
        {notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
      {check.shop === null ? null : <Signer key={check.shop.fingerprint} shop={check.shop} />}
      {check.manifest === null ? null : (
        <dl className={styles.facts}>
          <dt>File</dt>
          <dd>{parcel.name}</dd>
          <dt>Block</dt>
          <dd>{[title, block].filter((part) => part !== "").join(", ") || "not named"}</dd>
          <dt>Begun</dt>
          <dd>{check.manifest.session.created}</dd>
          <dt>Made by</dt>
          <dd>{check.manifest.app}</dd>
          <dt>Last seal</dt>
          <dd className={styles.mono}>{check.manifest.session.seal}</dd>
        </dl>
      )}
      {result?.success ? <Bores result={result.data} /> : null}
      {check.manifest === null ? null : (
        <div className={styles.buttons}>
          <Button disabled={!mayAct} onClick={() => void adopt()}>
            Take its session in and look at it
          </Button>
        </div>
      )}
    </div>
  );
}

/** Whose key it is, and what to do about a new one. */
function Signer({ shop }: { readonly shop: NonNullable<ParcelCheck["shop"]> }): ReactNode {
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const [told, setTold] = useState("");
  return (
    <>
      <p>
        Fingerprint of the key: <span className={styles.mono}>{shop.fingerprint}</span>
      </p>
      {shop.key === "new" ? (
        <div className={styles.row}>
          <Button disabled={!mayAct} onClick={() => void keepSigner({ remember: true })}>
            Remember this key for {shop.name}
          </Button>
          <p>Compare the fingerprint with the shop first, by telephone for example.</p>
        </div>
      ) : null}
      {shop.key === "other-key" ? (
        <div className={styles.row}>
          <Field
            label={`Fingerprint that ${shop.name} has told you`}
            value={told}
            autoComplete="off"
            onChange={({ target }) => setTold(target.value)}
          />
          <Button disabled={!mayAct || told.trim() === ""} onClick={() => void keepSigner({ accept: told.trim() })}>
            Accept the new key
          </Button>
        </div>
      ) : null}
    </>
  );
}

function Bores({ result }: { readonly result: Result }): ReactNode {
  return (
    <div className={table.scroll}>
      <table className={classNames(table.table, styles.table)}>
        <caption className="unseen">What the parcel says of each bore, computed again from its raw lines</caption>
        <thead>
          <tr>
            <th scope="col">Bore</th>
            <th scope="col">Clearance</th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          {result.bores.map((bore) => (
            <tr key={bore.name}>
              <th scope="row">{bore.name}</th>
              <td>
                <Figure length={bore.clearanceMinNm as Nm | null} bare none="not measured" /> to{" "}
                <Figure length={bore.clearanceMaxNm as Nm | null} none="not measured" />
              </td>
              <td>
                <span className={table.verdict}>
                  <VerdictPicture verdict={bore.verdict} preferred={bore.preferred} /> {bore.verdict}
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
