import { type Day, sayDay } from "@/lib/words/day";
import styles from "./small-picture.module.css";

const sidePx = 96;

/** A picture that is at home, small, as the way to the whole of it; its room is kept before it comes. */
export function SmallPicture({ name, of, day }: { name: string; of: string; day: Day }) {
  return (
    <a className={styles.way} href={`/api/picture/${name}`}>
      {/* biome-ignore lint/performance/noImgElement: the framework's own would keep scaled copies beyond the garden's folder */}
      <img
        className={styles.picture}
        src={`/api/picture/${name}`}
        width={sidePx}
        height={sidePx}
        loading="lazy"
        decoding="async"
        alt={`${of}, ${sayDay(day, true)}`}
      />
    </a>
  );
}
