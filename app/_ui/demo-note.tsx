import { gardenName } from "@/lib/service/garden-name";
import { openHouse } from "@/lib/service/house";
import styles from "./page.module.css";

/** Stands on every page that shows records, while the garden is the invented one. */
export function DemoNote() {
  const garden = gardenName(openHouse());
  if (!garden?.isDemo) return null;
  return (
    <p className={styles.demo}>
      {garden.name} is invented: its people, varieties, losses, weights and weather are made up.
    </p>
  );
}
