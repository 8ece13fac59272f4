// The sheets of a lamp: which there are, and each as a drawing.

import type { Lamp } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { allInSystem, inSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { boardPlans } from './boardSheets.ts'
import { facePlans } from './faceSheets.ts'
import { frameItems, type TitleContext } from './frame.ts'
import { addKerf } from './kerf.ts'
import { boxOf } from './path.ts'
import { ringPlans } from './ringSheets.ts'
import { MM, mm, sizeItems } from './sizes.ts'
import { tunnelPlans } from './tunnelSheets.ts'
import type { Drawing, Item, Made, Refusal, SheetName, SheetPlan } from './types.ts'

/** Sizes of what is cut, without sizes and frame, mm. */
export type ListedSheet = (SheetName & { ok: true; widthMm: number; heightMm: number }) | (SheetName & Refusal)

export interface DrawContext extends TitleContext {
  /** Lines for a cutter, half a kerf beside the finished edge; without, the finished sizes, as for scribing by a paper template. */
  withKerf: boolean
}

export type Drawn = { ok: true; drawing: Drawing } | Refusal

const known = new WeakMap<Lamp, SheetPlan[]>()

/** Memoized: a list and each of its sheets ask for the same; a document is never changed in place. */
function plansOf(lamp: Lamp): SheetPlan[] {
  const plans = known.get(lamp) ?? [...facePlans(lamp), ...boardPlans(lamp), ...tunnelPlans(lamp), ...ringPlans(lamp)]
  known.set(lamp, plans)
  return plans
}

/** Every sheet that the lamp has or might have, with the reason where there is none. */
export function listSheets(lamp: Lamp, system: UnitSystem = 'metric'): ListedSheet[] {
  return plansOf(lamp).map(({ name, title: inBoth, draw }) => {
    const title = inSystem(inBoth, system)
    const made = madeIn(draw(), system)
    if (!made.ok) return { name, title, ...made }
    const box = boxOf(partItems(made.items))
    return { name, title, ok: true, widthMm: box.toX - box.fromX, heightMm: box.toY - box.fromY }
  })
}

/** What is written on the sheet, in one system of units; its lines stay. */
function madeIn(made: Made, system: UnitSystem): Made {
  if (!made.ok) return allInSystem(made, system)
  const { items, sizes, notes, stock, table } = made
  return {
    ...made,
    ...allInSystem({ sizes, notes, stock, ...(table && { table }) }, system),
    items: items.map((i) => (i.kind === 'text' ? allInSystem(i, system) : i)),
  }
}

/** What makes up the part itself. */
const partItems = (items: readonly Item[]): Item[] =>
  items.filter((i) => i.layer === 'outline' || i.layer === 'hole' || i.layer === 'slot')

/** One sheet as a drawing at true size; the same lamp and context give the same drawing. */
export function drawSheet(lamp: Lamp, name: string, context: DrawContext): Drawn {
  const plans = plansOf(lamp)
  const plan = plans.find((p) => p.name === name)
  if (!plan) return { ok: false, why: `No sheet ${name}; there is ${plans.map((p) => p.name).join(', ')}.` }
  const { system = 'metric' } = context
  const made = madeIn(plan.draw(), system)
  if (!made.ok) return made
  const { kerfMm } = workshopOf(lamp)
  const isMoved = made.isCut && context.withKerf && kerfMm > 0
  const cut = isMoved ? addKerf(made.items, kerfMm) : { ok: true as const, items: made.items }
  if (!cut.ok) return allInSystem(cut, system)
  const part = boxOf(partItems(made.items))
  const partMm = Math.max(part.toX - part.fromX, part.toY - part.fromY)
  const shown = [...cut.items, ...sizeItems(made.sizes, partMm)]
  const cutWords = isMoved ? `kerf ${mm(kerfMm)} ${MM}: added` : made.isCut ? 'no kerf added' : 'not for cutting'
  const kerfNote = isMoved
    ? `Cut on the lines: outlines lie ${mm(kerfMm / 2, 3)} ${MM} outside and openings as much inside of the finished edges. Sizes written in are the finished ones.`
    : made.isCut
      ? 'Lines are the finished edges: no room for a cutter’s kerf is in them.'
      : 'Lines are the finished sizes.'
  const framed = {
    ...made,
    notes: [...made.notes, kerfNote],
    restsOn: isMoved ? made.restsOn : made.restsOn.filter((e) => e !== 'kerfMm'),
  }
  const items = [...shown, ...frameItems(lamp, plan.title, framed, boxOf(shown), cutWords, context)]
  return {
    ok: true,
    drawing: {
      name,
      title: inSystem(plan.title, system),
      items,
      box: boxOf(items),
      partBox: boxOf(partItems(cut.items)),
      isCut: made.isCut,
    },
  }
}
