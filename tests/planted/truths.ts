// The truths of the planted sets, worked out once and stored: a row for each class and seed. `node scripts/run-ts.mjs tests/planted/main.ts
// truths` writes them anew.
import { readFileSync } from 'node:fs'
import { CLASSES, type PlantedClass } from './lamps.ts'
import type { Truth } from './truth.ts'

export const TRUTHS_FILE = 'tests/planted/truths.csv'
const HEAD = 'class,seed,kWm2,se,xMm,yMm,zMm,dx,dy,dz,depthMm,rays'

export interface StoredTruth {
  name: PlantedClass
  seed: number
  truth: Truth
}

export const rowOf = ({ name, seed, truth: t }: StoredTruth): string =>
  [
    name,
    seed,
    Number(t.kWm2.toPrecision(6)),
    Number(t.se.toPrecision(3)),
    ...t.at.map((v) => Number(v.toFixed(2))),
    ...t.along.map((v) => Number(v.toFixed(5))),
    Number(t.depthMm.toPrecision(4)),
    t.rays,
  ].join(',')

export const textOfTruths = (rows: readonly StoredTruth[]): string => {
  const sorted = [...rows].sort((a, b) => CLASSES.indexOf(a.name) - CLASSES.indexOf(b.name) || a.seed - b.seed)
  return `${[HEAD, ...sorted.map(rowOf)].join('\n')}\n`
}

export function readTruths(text: string = readFileSync(TRUTHS_FILE, 'utf8')): StoredTruth[] {
  const [head, ...lines] = text.trim().split('\n')
  if (head !== HEAD) throw new Error('planted: truths.csv has another head; write it anew')
  return lines.map((line) => {
    const [label, ...numbers] = line.split(',')
    const name = CLASSES.find((c) => c === label)
    const [seed, kWm2, se, x, y, z, dx, dy, dz, depthMm, rays] = numbers.map(Number)
    if (!name || rays === undefined) throw new Error(`planted: truths.csv has the row "${line}"`)
    const at = [x!, y!, z!] as const
    const along = [dx!, dy!, dz!] as const
    return { name, seed: seed!, truth: { kWm2: kWm2!, se: se!, at, along, depthMm: depthMm!, rays } }
  })
}
