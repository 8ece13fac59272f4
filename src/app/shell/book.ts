// The book from what the page has computed: what is still to come, and the file.

import { version } from '../../../package.json'
import type { DangerReading } from '../../job/danger/result.ts'
import { sameTrace } from '../../job/danger/sameTrace.ts'
import { designHash } from '../../lamp/designHash.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { localDate } from '../../num/localDate.ts'
import type { ChapterId } from '../../report/book/model.ts'
import type { BookResults } from '../../report/book/results.ts'
import { shownTexts } from '../common/decimalMark.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { bookPicture } from '../night/bookPicture.ts'
import type { DangerState } from '../store/danger.ts'
import { missingFindings, missing as missingParts } from '../store/missing.ts'
import type { PowerState } from '../store/power.ts'
import type { ResultState } from '../store/result.ts'
import { unitSystem } from '../store/unitSystem.ts'

export interface BookReady {
  results: BookResults
  /** Why no book can be made yet; empty: it can. */
  waitsFor: string
  /** The dangers of this lamp have been read, from all the rays. */
  hasDangers: boolean
}

export function readyFor(lamp: Lamp, result: ResultState, power: PowerState, danger: DangerState): BookReady {
  const { sheet, stale } = result
  const reading = currentDangers(lamp, danger)
  const { report, findings } = power
  const isSettled = sheet !== null && !stale && sheet.state === 'settled'
  const waitsFor =
    !isSettled && result.trace !== 'failed'
      ? 'The trace has not settled yet.'
      : power.stale && power.why === ''
        ? 'Heat and power are still being run.'
        : ''
  const heat = report && !power.stale ? { report, findings } : null
  return {
    results: { sheet: isSettled ? sheet : null, danger: reading, power: heat },
    waitsFor,
    hasDangers: reading !== null,
  }
}

function currentDangers(lamp: Lamp, { reading, lamp: read, rough }: DangerState): DangerReading | null {
  return reading && read && !rough && sameTrace(lamp, read) ? reading : null
}

export type BookForm = 'pdf' | 'html'

/** Makes the file and saves it; in words why it could not be made, or null. The heavy parts are loaded when they are called for. */
export async function saveBook(
  lamp: Lamp,
  results: BookResults,
  without: readonly ChapterId[],
  form: BookForm,
): Promise<string | null> {
  const missing = missingFindings(missingParts.getState()).map((f) => f.title)
  try {
    const night = results.sheet && !without.includes('night') ? await nightOf() : undefined
    const { bookOf } = await import('../../report/book/book.ts')
    const hash = designHash(lamp)
    const made = bookOf(
      lamp,
      { ...results, night },
      { version, date: localDate(), hash, without, missing, system: unitSystem() },
    )
    const book = { ...made, ...shownTexts({ answer: made.answer, cautions: made.cautions, chapters: made.chapters }) }
    const name = `${fileStem(lamp.name)}-book.${form}`
    if (form === 'html') {
      const { bookHtml } = await import('../../report/book/html.ts')
      saveFile(name, bookHtml(book), 'text/html')
      return null
    }
    const { bookPdf } = await import('../../report/book/pdf/write.ts')
    const [regular, bold] = await Promise.all([fontBytes('Regular'), fontBytes('Bold')])
    const bytes = await bookPdf(book, { regular, bold })
    saveFile(name, new Uint8Array(bytes), 'application/pdf')
    return null
  } catch (error) {
    return `The book could not be made: ${error instanceof Error ? error.message : String(error)}`
  }
}

/** A picture that fails must not cost the book. */
async function nightOf(): Promise<BookResults['night']> {
  try {
    return (await bookPicture()) ?? { why: 'This browser gives the page no WebGL 2: the night can’t be drawn.' }
  } catch (error) {
    return { why: `The night could not be drawn: ${error instanceof Error ? error.message : String(error)}` }
  }
}

async function fontBytes(face: 'Regular' | 'Bold'): Promise<Uint8Array> {
  const got = await fetch(new URL(`fonts/LiberationSans-${face}.ttf`, document.baseURI))
  if (!got.ok) throw new Error('its font is not there')
  return new Uint8Array(await got.arrayBuffer())
}
