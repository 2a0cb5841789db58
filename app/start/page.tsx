import type { Metadata } from "next";
import Link from "next/link";
import { gardenView } from "@/lib/service/garden-view";
import { openHouse } from "@/lib/service/house";
import { GardenForm } from "./_parts/garden-form";

export const metadata: Metadata = { title: "Start my own garden" };

export default function StartPage() {
  const { garden } = gardenView(openHouse());
  if (garden)
    return (
      <>
        <h1>This file holds a garden already</h1>
        <p>
          It is called {garden.name}. One data folder keeps one garden; start the program with another folder
          for another garden.
        </p>
        <p>
          <Link href="/">Back to today</Link>
        </p>
      </>
    );
  return (
    <>
      <h1>Start my own garden</h1>
      <p>
        Where the garden lies says how long its days are, and its time zone says which day a walk round in the
        evening belongs to. Nothing leaves this machine.
      </p>
      <GardenForm />
    </>
  );
}
