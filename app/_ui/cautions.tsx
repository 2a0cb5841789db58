import styles from "./page.module.css";

/** What to beware of, where the number stands, the most important first. */
export function Cautions({ cautions }: { cautions: { text: string }[] }) {
  if (cautions.length === 0) return null;
  return (
    <div className={styles.caution}>
      <strong>Beware</strong>
      {cautions.length === 1 ? (
        <p>{cautions[0].text}</p>
      ) : (
        <ul>
          {cautions.map((caution) => (
            <li key={caution.text}>{caution.text}</li>
          ))}
        </ul>
      )}
    </div>
  );
}
