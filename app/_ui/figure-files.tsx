"use client";

import { useState } from "react";
import styles from "./figure.module.css";

/** Drawn at three times its size, so that it prints well. */
const scale = 3;

async function pictureOf(address: string): Promise<Blob> {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(answer.statusText);
  const drawing = URL.createObjectURL(new Blob([await answer.text()], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = drawing;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = image.naturalWidth * scale;
    canvas.height = image.naturalHeight * scale;
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!blob) throw new Error("no picture came of the drawing");
    return blob;
  } finally {
    URL.revokeObjectURL(drawing);
  }
}

/** The figure as a file: the drawing itself, or a picture that the browser makes of it. */
export function FigureFiles({ address, title }: { address: string; title: string }) {
  const [failed, setFailed] = useState(false);
  const save = async () => {
    try {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(await pictureOf(address));
      link.download = `${title.replaceAll(/[^A-Za-z0-9]+/g, "-").replaceAll(/^-|-$/g, "")}.png`;
      link.click();
      URL.revokeObjectURL(link.href);
      setFailed(false);
    } catch {
      setFailed(true);
    }
  };
  return (
    <p className={styles.files}>
      <a href={address} download aria-label={`${title} as a drawing, SVG`}>
        Save as SVG
      </a>
      <button type="button" onClick={save} aria-label={`${title} as a picture, PNG`}>
        Save as PNG
      </button>
      {failed && <span role="alert">The picture could not be made; the SVG can be had all the same.</span>}
    </p>
  );
}
