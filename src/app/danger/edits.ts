// The danger sheet's settings as edits of the lamp. A default value is not written into the document.
import type { DangerChoices, MaterialId, SunPlace, ThingInTheWay } from '../../lamp/danger.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { design } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'

function withChoices(lamp: Lamp, choices: DangerChoices): Lamp {
  const entries = Object.entries(choices).filter(([, value]) => value !== undefined)
  const { danger: _, ...rest } = lamp
  return entries.length > 0 ? { ...rest, danger: Object.fromEntries(entries) } : rest
}

/** Null restores the published threshold. */
export function withThreshold(lamp: Lamp, id: MaterialId, kWm2: number | null): Lamp {
  const { [id]: _, ...others } = lamp.danger?.thresholdsKWm2 ?? {}
  const own = kWm2 === null ? others : { ...others, [id]: kWm2 }
  return withChoices(lamp, { ...lamp.danger, thresholdsKWm2: Object.keys(own).length > 0 ? own : undefined })
}

export const withThings = (lamp: Lamp, things: readonly ThingInTheWay[]): Lamp =>
  withChoices(lamp, { ...lamp.danger, things: things.length > 0 ? [...things] : undefined })

export const withSun = (lamp: Lamp, sun: SunPlace): Lamp => withChoices(lamp, { ...lamp.danger, sun })

export const setThreshold = (id: MaterialId, name: string, kWm2: number | null): string | null =>
  tryEdit(design, kWm2 === null ? `${name}: published threshold` : `${name}: threshold ${kWm2} kW/m²`, (lamp) =>
    withThreshold(lamp, id, kWm2),
  )

export const setSun = (what: string, sun: SunPlace): string | null =>
  tryEdit(design, `In the sun: ${what}`, (lamp) => withSun(lamp, sun))

export const addThing = (thing: ThingInTheWay): string | null =>
  tryEdit(design, `In the way: ${thing.name}`, (lamp) => withThings(lamp, [...(lamp.danger?.things ?? []), thing]))

export const removeThing = (index: number): string | null =>
  tryEdit(design, 'Thing in the way taken out', (lamp) =>
    withThings(
      lamp,
      (lamp.danger?.things ?? []).filter((_, i) => i !== index),
    ),
  )
