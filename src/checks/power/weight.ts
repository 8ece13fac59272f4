// Weight and centre of gravity of the parts whose mass the document knows. Tipping isn't computed: the document has no stand.

import { lensKg } from '../../hazard/lensMass.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import { sizeText } from '../../num/quantity.ts'
import type { Finding } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { mass, massUp } from '../words.ts'

/** Mass that most adults may lift now and then (EN 1005-2, ISO 11228-1: memory). */
const LIFT_KG = 25

interface Mass {
  name: string
  kg: number
  /** Along the axis from the face; null: its place isn't in the document. */
  zMm: number | null
}

export function weight(lamp: Lamp, { sink }: PowerParts): Finding[] {
  if (lamp.boards.length === 0) return []
  const masses = knownMasses(lamp, sink).filter((m) => m.kg > 0)
  if (masses.length === 0) return []
  const kg = masses.reduce((sum, m) => sum + m.kg, 0)
  const placed = masses.filter((m): m is Mass & { zMm: number } => m.zMm !== null)
  const placedKg = placed.reduce((sum, m) => sum + m.kg, 0)
  const zMm = placed.reduce((sum, m) => sum + m.kg * m.zMm, 0) / placedKg
  const where = placed.length === 0 ? '' : ` Centre of gravity of ${namesOf(placed)}: ${beside(zMm)}.`
  return [
    {
      rule: 'weight',
      severity: kg > LIFT_KG ? 'warning' : 'note',
      title: `${capital(namesOf(masses))}: ${massUp(kg)}.${where} Tipping isn’t computed.`,
      why: `Only parts with a mass in the document count; ${ratedSinkOf(lamp) ? 'the sink, ' : ''}tunnel, housing, drivers, boards and wires come on top. One person lifts ${mass(LIFT_KG)} at most now and then (EN 1005-2, ISO 11228-1: memory). The document describes no stand, so tipping can’t be computed.`,
      cure: 'Weigh it, hold it under its centre of gravity, and give it a stand so wide that it can’t fall on its lens; it must stand on a slope of 6° (IEC 60598-1: memory).',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}

function knownMasses(lamp: Lamp, sink: PowerParts['sink']): Mass[] {
  const { cooling, lens, elements, power } = lamp
  const plateMm = cooling?.plate.thicknessMm ?? 0
  const finMm = cooling && 'heightMm' in cooling.sink ? cooling.sink.heightMm : 0
  const pack = power?.supply.kind === 'pack' ? power.supply : null
  return [
    { name: 'plate', kg: cooling ? sink.plateKg : 0, zMm: -plateMm / 2 },
    { name: 'fins', kg: cooling ? sink.finKg : 0, zMm: -plateMm - finMm / 2 },
    { name: 'lens', kg: lens ? lensKg(lens) : 0, zMm: lens?.zMm ?? null },
    ...(elements ?? []).map((e) => ({ name: `“${e.name}”`, kg: lensKg(e), zMm: e.zMm })),
    { name: 'cells', kg: pack ? (pack.series * pack.parallel * pack.cellGram) / 1000 : 0, zMm: null },
  ]
}

const namesOf = (masses: readonly Mass[]): string => {
  const names = masses.map((m) => m.name)
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

const beside = (zMm: number): string =>
  `${sizeText(String(Math.round(Math.abs(zMm))), Math.abs(zMm))} ${zMm < 0 ? 'behind' : 'in front of'} the face`
