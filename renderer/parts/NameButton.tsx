import styles from "./NameButton.module.css";

/** The name of a bore or a lifter that can be chosen. `spoken` is what is read out in its place. */
export function NameButton({
  name,
  spoken,
  onChoose,
}: {
  readonly name: string;
  readonly spoken?: string;
  readonly onChoose: (name: string) => void;
}) {
  return (
    <button type="button" className={styles.name} aria-label={spoken} onClick={() => onChoose(name)}>
      {name}
    </button>
  );
}
