"use client";

import { useRef } from "react";
import { SendButton } from "@/app/_ui/button";
import { TextArea } from "@/app/_ui/field";
import formStyles from "@/app/_ui/form.module.css";
import { Working } from "@/app/_ui/working";
import { fieldOf, type PlanParts } from "./plan-beginning";

/** A text file's letters: UTF-8, or what older spreadsheets write. */
function lettersOf(bytes: ArrayBuffer): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/** Varieties from a list or a spreadsheet: pasted, or from a file that is put into the same field to be looked at. */
export function EntryList(parts: PlanParts) {
  const holder = useRef<HTMLDivElement>(null);
  const take = async (file: File | undefined) => {
    const area = holder.current?.querySelector("textarea");
    if (!file || !area) return;
    area.value = lettersOf(await file.arrayBuffer());
    area.dispatchEvent(new Event("input", { bubbles: true }));
    area.focus();
  };
  const isUsed = (parts.values.entryList ?? "") !== "" || parts.faults.some(({ at }) => at === "entryList");
  return (
    <Working summary="Take the varieties from a list or a spreadsheet" isOpen={isUsed}>
      <div ref={holder}>
        <TextArea
          {...fieldOf(parts, "entryList")}
          hint="One variety a line; or a spreadsheet’s cells, or its CSV: variety, what the packet says, and “check” or “tender check” where it is one. The rows above are then filled anew from it."
          rows={6}
        />
        <label className={formStyles.label} htmlFor="entryFile">
          Or from a CSV file
        </label>
        <input
          id="entryFile"
          type="file"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
          className={formStyles.input}
          onChange={(event) => void take(event.currentTarget.files?.[0])}
        />
      </div>
      <div className={formStyles.buttons}>
        <SendButton act="take-list">Fill in from the list</SendButton>
      </div>
    </Working>
  );
}
