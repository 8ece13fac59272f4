// Numbers with their thousands apart, by a thin space: a comma or a point there could be read as a decimal mark (ISO 80000-1:2022, 7.3.1, from memory).
// Own code around Intl, whose English groups are parted by commas.

const THIN = '\u202f'

/** As English text on a terminal has them, where the decimal mark is a point: by commas. */
export const withCommas = (text: string): string => text.replace(/(\d)\u202f(?=\d{3}(?!\d))/g, '$1,')

/** From four digits before the point on in groups of three. */
export const inThousands = (x: number, options: Intl.NumberFormatOptions = {}): string =>
  x.toLocaleString('en-GB', options).replaceAll(',', THIN)
