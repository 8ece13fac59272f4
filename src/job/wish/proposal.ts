// What a lamp that was made for a wish gives and costs, and what of the wish it doesn't keep.
import { partsList } from '../../bill/partsList.ts'
import type { Finding } from '../../checks/finding.ts'
import { follow } from '../start/light.ts'
import { loadOf } from '../start/supply.ts'
import type { CellReading } from '../sweep/cell.ts'
import { type Cooled, junctionWithin, lastsMinutes, massOf } from './cool.ts'
import type { Kind } from './kinds.ts'
import type { Miss, Proposal, SevereFinding } from './result.ts'
import { wishedCd } from './search.ts'
import { type Wish, wantedCd } from './wish.ts'

interface Made extends Cooled {
  reading: CellReading
  power: readonly Finding[]
}

export function proposalOf(wish: Wish & { minutes: number }, kind: Kind, made: Made): Proposal {
  const { answers, lamp, fans, full, reading, power, lengthMm, widthMm, headG, supplyG } = made
  const followed = follow(answers)
  const lasts = lastsMinutes(full)
  const all = [...reading.findings, ...power].filter((f) => f.severity === 'severe')
  const severe: SevereFinding[] = all.map(({ rule, title }) => ({ rule, title }))
  const has: Has = { lengthMm, widthMm, massG: massOf(made), minutes: lasts, cd: wishedCd(wish, reading.figures) }
  const { parts } = partsList(lamp)
  const amountOf = (start: string) => parts.reduce((sum, p) => sum + (p.key.startsWith(start) ? p.amount : 0), 0)
  return {
    ...{ kind: kind.id, name: kind.name, lamp, figures: reading.figures, rays: reading.rays },
    ...{ lengthMm, widthMm, massG: has.massG, headG, supplyG },
    fans: fans && { count: fans.count, sizeMm: fans.fan.sizeMm },
    boards: lamp.boards.length,
    emitters: lamp.boards.length * answers.perBoard,
    drivers: amountOf('driver:'),
    cells: amountOf('cell'),
    pieces: parts.reduce((sum, p) => sum + (p.unit === 'piece' ? p.amount : 0), 0),
    currentA: followed.currentA,
    inputW: loadOf(answers, followed).inputW,
    fullMinutes: Number.isFinite(lasts) ? lasts : null,
    junctionC: junctionWithin(full, wish.minutes),
    severe,
    misses: missesOf(wish, has),
  }
}

interface Has {
  cd: number
  minutes: number
  lengthMm: number
  widthMm: number
  massG: number
}

function missesOf(wish: Wish & { minutes: number }, has: Has): Miss[] {
  const misses: Miss[] = []
  const wanted = wantedCd(wish)
  if (has.cd < wanted) misses.push({ what: 'light', wished: wanted, has: has.cd })
  if (has.minutes < wish.minutes) misses.push({ what: 'minutes', wished: wish.minutes, has: has.minutes })
  const most = {
    lengthMm: wish.lengthMm,
    widthMm: wish.widthMm,
    massG: wish.massKg === undefined ? undefined : 1000 * wish.massKg,
  }
  for (const what of ['lengthMm', 'widthMm', 'massG'] as const) {
    const limit = most[what]
    if (limit !== undefined && has[what] > limit) misses.push({ what, wished: limit, has: has[what] })
  }
  return misses
}
