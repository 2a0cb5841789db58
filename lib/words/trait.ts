/** The count trait whose first day above zero is the day of the first flower stem. */
export const firstFlowerStem = "first flower stem";
