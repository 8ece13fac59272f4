// A sheet of a lamp as a drawing, or its refusal.
import { refusalText } from '../../src/drawing/refusals.ts'
import { type DrawContext, drawSheet } from '../../src/drawing/sheets.ts'
import type { Drawing } from '../../src/drawing/types.ts'
import { drawingDxf } from '../../src/files/drawingDxf.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { type ReadDxf, readDxf } from './readDxf.ts'

const CONTEXT: DrawContext = { date: '2026-11-30', hash: 'a'.repeat(64), withKerf: true }

export function drawn(lamp: Lamp, sheet: string, context: Partial<DrawContext> = {}): Drawing {
  const made = drawSheet(lamp, sheet, { ...CONTEXT, ...context })
  if (!made.ok) throw new Error(made.why)
  return made.drawing
}

export const drawnDxf = async (lamp: Lamp, sheet: string): Promise<ReadDxf> =>
  readDxf(await drawingDxf(drawn(lamp, sheet)))

export function whyNot(lamp: Lamp, sheet: string): string {
  const made = drawSheet(lamp, sheet, CONTEXT)
  return made.ok ? 'it was drawn' : refusalText(made, 'name')
}
