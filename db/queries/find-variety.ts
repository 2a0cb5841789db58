import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { crop, variety } from "../schema/garden";

export interface NamedVariety {
  id: string;
  name: string;
  crop: string;
  packetClaim: string | null;
}

export function findVariety(database: Database, varietyId: string): NamedVariety | null {
  return (
    database
      .select({ id: variety.id, name: variety.name, crop: crop.name, packetClaim: variety.packetClaim })
      .from(variety)
      .innerJoin(crop, eq(crop.id, variety.cropId))
      .where(eq(variety.id, varietyId))
      .get() ?? null
  );
}
