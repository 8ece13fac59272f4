// Sheets that can’t be drawn, and why.
import type { Lamp } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { MM, mm } from './sizes.ts'
import type { Refusal, SheetName, SheetPlan } from './types.ts'

export const refusedPlan = (name: string, title: string, why: string): SheetPlan => ({
  name,
  title,
  draw: () => ({ ok: false, why }),
})

/** The sentence for a blank that is too large. */
export function tooLarge(
  lamp: Lamp,
  { widthMm, heightMm }: { widthMm: number; heightMm: number },
  what = 'blank',
): string {
  const sheet = workshopOf(lamp).sheetMm
  const typical = lamp.workshop?.sheetMm ? '' : ' (a typical sheet: the lamp states none)'
  return `The ${what} is ${mm(widthMm)} × ${mm(heightMm)} ${MM}. However it is turned, it doesn’t fit on a sheet of ${mm(sheet.widthMm)} × ${mm(sheet.heightMm)} ${MM}${typical}.`
}

/** A refusal in words: other sheets by name where one is typed, by title where titles are seen. */
export const refusalText = ({ why, instead }: Omit<Refusal, 'ok'>, by: keyof SheetName): string =>
  instead
    ? `${why} ${instead.words}: ${instead.sheets.map((s) => (by === 'name' ? s.name : `“${s.title}”`)).join(', ')}.`
    : why
