import { address } from './address.ts';

// The addresses of the house: every page that leads to another asks here.

export const piecePath = (code: string) => `/shelf/pieces/${encodeURIComponent(code)}`;
export const lotPath = (code: string) => `/shelf/lots/${encodeURIComponent(code)}`;
export const PLEATING_PATH = '/shelf/pleating';
export const pleatingPath = (id: number) => `${PLEATING_PATH}/${id}`;
export const stripsPleatedPath = (id: number) => `${PLEATING_PATH}/strips/${id}`;
export const washTestsPath = (clothId: number) => `/shelf/cloths/${clothId}/wash-tests`;
export const clothPath = (id: number) => `/shelf/cloths/${id}`;
export const shadePath = (id: number) => `/shelf/shades/${id}`;
export const receiptPath = (id: number) => `/shelf/receipts/${id}`;
export const batchPath = (code: string) => `/dye-bench/batches/${encodeURIComponent(code)}`;
export const swatchPath = (code: string) => `/dye-bench/swatches/${encodeURIComponent(code)}`;
export const FIRST_RECIPE = '/dye-bench/first-recipe';
/** First recipes for a shade, on a cloth where one is named. */
export const firstRecipePath = (shadeId: number | null, clothId: number | null = null) =>
  address(FIRST_RECIPE, { shade_id: shadeId, cloth_id: clothId });
/** The shade that a recipe is expected to give on a cloth. */
export const expectedShadePath = (recipeId: number) =>
  address(`${FIRST_RECIPE}/expected`, { recipe_id: recipeId });
/** The next recipe after a swatch that was judged. */
export const shadeAgainPath = (of: { readonly kind: 'swatch' | 'lot'; readonly id: number }) =>
  address(`${FIRST_RECIPE}/again`, { [`${of.kind}_id`]: of.id });
/** The swatches of a cloth that shades are predicted from. */
export const knownSwatchesPath = (clothId: number | null) =>
  address(`${FIRST_RECIPE}/swatches`, { cloth_id: clothId });
export const photosPath = (setId: number) => `/shelf/photos/${setId}`;
/** Which lots of a cloth and shade may be sewn together; with a garment, for its need. */
export const togetherPath = (of: { readonly clothId: number; readonly shadeId: number }, garmentCode = '') =>
  address('/shelf/together', { cloth: of.clothId, shade: of.shadeId, garment: garmentCode });
export const supplierPath = (id: number) => `/orders/suppliers/${id}`;
export const supplyPath = (id: number) => `/supplies/${id}`;
export const supplyOfferPath = (id: number) => `/orders/supply-offers/${id}`;
export const orderPath = (code: string) => `/orders/${encodeURIComponent(code)}`;

export const garmentPath = (code: string) => `/garments/${encodeURIComponent(code)}`;
export const tierPath = (code: string, tierId: number) => `${garmentPath(code)}/tiers/${tierId}`;
/** Where a tier stands on its garment's page. */
export const tierPlace = (code: string, tierId: number) => `${garmentPath(code)}#tier-${tierId}`;
export const garmentPartPath = (code: string, partId: number) => `${garmentPath(code)}/parts/${partId}`;
export const newPartPath = (code: string, kind = '') => `${garmentPath(code)}/parts/new${kind && `/${kind}`}`;
export const asMadePath = (code: string) => `${garmentPath(code)}/as-made`;
export const versionsPath = (code: string) => `${garmentPath(code)}/versions`;
/** Two states beside each other: each the number of a version, or the code of a garment as it is now. */
export const comparePath = (code: string, from: string, to: string) =>
  address(`${versionsPath(code)}/compare`, { from, to });
export const copyPath = (code: string) => `${garmentPath(code)}/copies`;
export const bookPath = (code: string) => `${garmentPath(code)}/book`;
export const sewingPath = (code: string) => `${garmentPath(code)}/sewing`;
export const backwardsPath = (code: string, tierId: number) => `${tierPath(code, tierId)}/backwards`;
/** By when each step of a garment has to be done. */
export const daysPath = (code: string) => `${garmentPath(code)}/by-when`;
/** How far each tier of a garment is. */
export const progressPath = (code: string) => `${garmentPath(code)}/progress`;
export const costPath = (code: string) => `${garmentPath(code)}/cost`;
export const shortPath = (code: string) => address('/short', { garment: code });
export const cuttingPath = (code: string, tierId: number) =>
  `/cutting-table/${encodeURIComponent(code)}/${tierId}`;

/** Where length is held for a tier, from the piece named. */
export const holdPath = (code: string, tierId: number, piece = '') =>
  address(`${cuttingPath(code, tierId)}/holds`, { piece });

export const releasePath = (code: string, tierId: number, piece = '') =>
  address(`${cuttingPath(code, tierId)}/releases`, { piece });

/** Where strips are cut for a tier, from the piece named. */
export const cutPath = (code: string, tierId: number, piece = '') =>
  address(`${cuttingPath(code, tierId)}/cuts`, { piece });

export const benchPath = (code: string, tierId: number) => `${cuttingPath(code, tierId)}/bench`;

const garmentAtTable = (code: string) => `/cutting-table/${encodeURIComponent(code)}`;

/** Where the lays that are held for a garment are cut, one after the other. */
export const layBenchPath = (code: string) => `${garmentAtTable(code)}/bench`;

/** One lay of it, where something else happened than was planned. */
export const layPath = (code: string, layId: number) => `${garmentAtTable(code)}/lays/${layId}`;

/** All that is to be cut for a garment, for paper. */
export const cutSheetPath = (code: string) => `${garmentAtTable(code)}/sheet`;

/** The cut plans of a garment. */
export const planPath = (code: string) => `/cutting-table/${encodeURIComponent(code)}/plan`;
