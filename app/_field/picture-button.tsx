"use client";

import { type ReactNode, useState } from "react";
import type { Picture } from "@/lib/sync/device/device-store";
import { scalePicture } from "@/lib/sync/device/scale-picture";
import styles from "./field.module.css";
import { say } from "./said";

/** Opens the camera, or the files where there is none, and gives the picture scaled down. */
export function PictureButton({
  className,
  onPicture,
  children,
}: {
  className?: string;
  onPicture: (picture: Picture) => void;
  children: ReactNode;
}) {
  const [busy, setBusy] = useState(false);
  const take = async (file: File | undefined) => {
    if (!file) return;
    setBusy(true);
    try {
      onPicture(await scalePicture(file));
    } catch {
      say("Not kept: this browser cannot read that file as a picture.");
    } finally {
      setBusy(false);
    }
  };
  return (
    <label className={`${styles.button} ${styles.quiet} ${styles.picture} ${className ?? ""}`}>
      <input
        type="file"
        accept="image/*"
        capture="environment"
        className={styles.hidden}
        onChange={(event) => {
          void take(event.target.files?.[0]);
          // The same picture may be chosen again.
          event.target.value = "";
        }}
      />
      {busy ? "Scaling…" : children}
    </label>
  );
}
