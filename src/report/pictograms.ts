// Pictograms of the danger sheet, of our own drawing, in the sign shapes of ISO 3864-1: triangle for warnings, round sign with a bar for
// prohibitions, disc for mandatory actions. Inner drawings lie in a box of 100 by 100.

const warning = (inner: string): string =>
  `<path d="M50 6 L96 88 H4 Z" fill="#f5c400" stroke="#111" stroke-width="6" stroke-linejoin="round"/>${inner}`
const prohibition = (inner: string): string =>
  `<circle cx="50" cy="50" r="44" fill="#fff"/>${inner}<circle cx="50" cy="50" r="42" fill="none" stroke="#b3121d" stroke-width="8"/><path d="M20 20 L80 80" stroke="#b3121d" stroke-width="8"/>`
const mandatory = (inner: string): string => `<circle cx="50" cy="50" r="46" fill="#0b4f9e"/>${inner}`

const ink = 'fill="none" stroke="#111" stroke-width="5" stroke-linecap="round" stroke-linejoin="round"'
const white = 'fill="none" stroke="#fff" stroke-width="6" stroke-linecap="round" stroke-linejoin="round"'

/** Rays through a lens onto a flame. */
const fire = `<path d="M22 50 V78" ${ink}/><path d="M28 56 L56 66 M28 74 L56 68" ${ink}/><path d="M66 80 c-12 -8 -6 -18 0 -26 c2 8 12 12 8 22 c-1 3 -4 4 -8 4 Z" fill="#111"/>`
/** An eye before a beam. */
const eye = `<path d="M30 66 C40 50 60 50 70 66 C60 80 40 80 30 66 Z" ${ink}/><circle cx="50" cy="66" r="6" fill="#111"/><path d="M50 30 V44 M40 34 L44 46 M60 34 L56 46" ${ink}/>`
const sun = `<circle cx="50" cy="42" r="8" fill="#111"/><path d="M38 62 C45 56 55 56 62 62 C55 68 45 68 38 62 Z" ${ink}/><path d="M42 68 L50 82 L58 68" ${ink}/>`
const things =
  '<path d="M34 44 H66 L72 76 H28 Z" fill="#111"/><path d="M42 44 C42 30 58 30 58 44" fill="none" stroke="#111" stroke-width="5"/>'
/** A hand in a beam. */
const palm = `<path d="M38 80 V58 L34 52 M38 58 L42 42 M44 58 L50 38 M50 58 L58 42 M56 60 L66 52 C64 66 60 72 58 80" ${ink}/>`
const cover = `<path d="M30 36 V64 M30 36 C46 40 46 60 30 64" ${white}/><path d="M58 30 V70 M58 30 C70 34 70 66 58 70" ${white}/><path d="M40 50 H50" ${white}/>`

const PICTOGRAMS = {
  fire: { of: 'Warning: light that lights fires', svg: warning(fire) },
  eye: { of: 'Warning: harms the eye', svg: warning(eye) },
  hand: { of: 'Warning: burns the skin', svg: warning(palm) },
  sun: { of: 'Warning: the sun burns it from inside', svg: warning(sun) },
  things: { of: 'Nothing on the lens or before it', svg: prohibition(things) },
  cover: { of: 'Cover the lens when it is off', svg: mandatory(cover) },
} as const

export type Pictogram = keyof typeof PICTOGRAMS

export const pictogram = (name: Pictogram, sizeMm: number): string =>
  `<svg viewBox="0 0 100 100" role="img" aria-label="${PICTOGRAMS[name].of}" width="${sizeMm}mm" height="${sizeMm}mm">${PICTOGRAMS[name].svg}</svg>`
