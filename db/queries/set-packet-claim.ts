import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { variety } from "../schema/garden";

export function setPacketClaim(database: Database, varietyId: string, packetClaim: string): void {
  database.update(variety).set({ packetClaim }).where(eq(variety.id, varietyId)).run();
}
