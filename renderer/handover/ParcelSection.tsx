import { type ReactNode, useState } from "react";
import type { MethodOutput } from "../../core/bridge/messages.ts";
import { download } from "../findings/download.ts";
import { Button } from "../parts/Button.tsx";
import { Check } from "../parts/Choices.tsx";
import { Field } from "../parts/Field.tsx";
import { useStore } from "../store/store.ts";
import { bytesOfBase64 } from "./base64.ts";
import { DecimalChoice } from "./DecimalChoice.tsx";
import styles from "./handover.module.css";

/** The parcel for the next builder: what goes in, whether it is signed, and what was made. */
export function ParcelSection(): ReactNode {
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const call = useStore((state) => state.actions.call);
  const [sign, setSign] = useState(false);
  const [shop, setShop] = useState("");
  const decimal = useStore((state) => state.settings.decimal);
  const [busy, setBusy] = useState(false);
  const [made, setMade] = useState<Omit<MethodOutput<"session.handover">, "content"> | null>(null);
  const make = async () => {
    setBusy(true);
    setMade(null);
    const name = shop.trim();
    const answer = await call("session.handover", { sign, decimal, ...(sign && name !== "" ? { shop: name } : {}) });
    setBusy(false);
    if (answer === null) return;
    const { content, ...rest } = answer;
    download(answer.name, bytesOfBase64(content));
    setMade(rest);
  };
  return (
    <section className={styles.part} aria-labelledby="parcel-heading">
      <h2 id="parcel-heading">The parcel for the next builder</h2>
      <p>
        One file with every raw line of every gauge and its seals, the findings as result, tables, QIF document and
        report, pairing and remedy, and a text on how to read and check all of it without this program.
      </p>
      <Check label="Sign it with the shop's own key" checked={sign} onChange={setSign} />
      {sign ? (
        <Field
          label="Name of the shop"
          hint="needed the first time, when the key is made; it stays with the key"
          value={shop}
          autoComplete="organization"
          onChange={({ target }) => setShop(target.value)}
        />
      ) : null}
      <DecimalChoice label="Numbers in its tables" />
      <div className={styles.buttons}>
        <Button kind="main" disabled={!mayAct || busy} onClick={() => void make()}>
          {busy ? "Packing it" : "Make the parcel"}
        </Button>
      </div>
      <div role="status">{made === null ? null : <Made made={made} />}</div>
    </section>
  );
}

function Made({ made }: { readonly made: Omit<MethodOutput<"session.handover">, "content"> }): ReactNode {
  return (
    <div className={styles.received}>
      <p>
        <strong>{made.name}</strong> is written: {made.files.map(({ name }) => name).join(", ")}.
      </p>
      <dl className={styles.facts}>
        <dt>SHA-256</dt>
        <dd className={styles.mono}>{made.sha256}</dd>
        <dt>Signed</dt>
        <dd>
          {made.signedBy === null ? (
            "no: it shows damage, not who it comes from"
          ) : (
            <>
              by {made.signedBy.name}, key <span className={styles.mono}>{made.signedBy.fingerprint}</span>
            </>
          )}
        </dd>
      </dl>
      {made.signedBy === null ? null : (
        <p>Tell the next builder the fingerprint by another way than the parcel, by telephone for example.</p>
      )}
      {made.keyMadeAt === null ? null : (
        <p>
          The key was made just now and is kept in {made.keyMadeAt}. Keep a copy in a safe place, and give it to nobody.
        </p>
      )}
    </div>
  );
}
