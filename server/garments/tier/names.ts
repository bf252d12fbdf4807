/** The name of a tier of the garment by its number. */
export type TierNames = (tierId: number) => string;
