"use client";

import { useSyncExternalStore } from "react";
import { type Device, type DeviceState, device, stateAtFirst } from "@/lib/sync/device/device";

function subscribe(listener: () => void): () => void {
  return device().subscribe(listener);
}

/** This phone's store as it stands; drawn anew whenever it changes, from another tab too. */
export function useDeviceState(): DeviceState {
  return useSyncExternalStore(
    subscribe,
    () => device().state(),
    () => stateAtFirst,
  );
}

/** Where facts are recorded: for event handlers, in the browser only. */
export function thisDevice(): Device {
  return device();
}
