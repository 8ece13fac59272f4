// Filling a face with boards, away from the page's thread: the closest packings take a few tenths of a second.
import type { Handlers } from '../../engine/workers/calls.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type FillOptions, type FillResult, fillFace } from '../../layout/fill.ts'

export type FillCalls = { fill: { args: { lamp: Lamp; options: FillOptions }; event: never; result: FillResult } }

export const makeFillService = (): Handlers<FillCalls> => ({ fill: ({ lamp, options }) => fillFace(lamp, options) })
