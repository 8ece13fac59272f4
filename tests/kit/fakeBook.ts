// Results for a book without tracing or running: by formula, but the wiring and the power-up list are the lamp's own.
import { readFileSync } from 'node:fs'
import { powerFindings, preparePower } from '../../src/job/power/run.ts'
import { designHash } from '../../src/lamp/designHash.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { bookOf } from '../../src/report/book/book.ts'
import type { Book } from '../../src/report/book/model.ts'
import type { BookFonts } from '../../src/report/book/pdf/write.ts'
import type { BookContext, BookResults } from '../../src/report/book/results.ts'
import { fakeDanger } from './fakeDanger.ts'
import { fakeRun } from './fakePower.ts'
import { fakeSheet } from './fakeSheet.ts'

export function fakeResults(lamp: Lamp): BookResults {
  const report = preparePower(lamp).report(lamp.boards.length > 0 ? [fakeRun()] : [])
  return {
    sheet: fakeSheet(lamp),
    danger: fakeDanger(lamp),
    power: { report, findings: powerFindings(lamp, { ...report, modes: [] }) },
  }
}

export const fakeBook = (lamp: Lamp, more: Partial<BookContext> = {}, results = fakeResults(lamp)): Book =>
  bookOf(lamp, results, { version: '9.9.9', date: '2026-03-04', hash: designHash(lamp), ...more })

const font = (face: string) => readFileSync(new URL(`../../public/fonts/LiberationSans-${face}.ttf`, import.meta.url))

export const bookFonts = (): BookFonts => ({ regular: font('Regular'), bold: font('Bold') })
