// Pages filled from the top, a new one where what comes doesn't fit.
import type { LaidPage, Placed } from './place.ts'

export interface Sheet {
  widthPt: number
  heightPt: number
  left: number
  right: number
  top: number
  /** Where the body ends; the foot stands below. */
  bottom: number
}

const MM = 72 / 25.4
const SIDE_MM = 15
const TOP_MM = 16
const BOTTOM_MM = 20

export function sheetOf({ widthMm, heightMm }: { widthMm: number; heightMm: number }): Sheet {
  const [widthPt, heightPt] = [widthMm * MM, heightMm * MM]
  return {
    widthPt,
    heightPt,
    left: SIDE_MM * MM,
    right: widthPt - SIDE_MM * MM,
    top: TOP_MM * MM,
    bottom: heightPt - BOTTOM_MM * MM,
  }
}

export interface Flow {
  readonly sheet: Sheet
  readonly pages: LaidPage[]
  /** Top of what comes next. */
  y(): number
  /** Goes to the next page where less than this is left; true where it did. */
  reserve(height: number): boolean
  newPage(): void
  put(...items: readonly Placed[]): void
  skip(height: number): void
}

export function makeFlow(sheet: Sheet): Flow {
  const pages: LaidPage[] = [{ items: [] }]
  let y = sheet.top
  const newPage = () => {
    pages.push({ items: [] })
    y = sheet.top
  }
  return {
    sheet,
    pages,
    y: () => y,
    reserve: (height) => {
      if (y + height <= sheet.bottom || y === sheet.top) return false
      newPage()
      return true
    },
    newPage,
    put: (...items) => void pages.at(-1)?.items.push(...items),
    // Space at the head of a page is no use to anybody.
    skip: (height) => {
      y += height
    },
  }
}
