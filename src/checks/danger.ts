// Findings of the danger sheet, one rule for each function, in addition to those of the beam sheet (check.ts).
import type { Lamp } from '../lamp/schema.ts'
import { mappedWords } from '../library/lensSystem.ts'
import { roundedUp } from '../num/sided.ts'
import { DANGER_EYES } from './dangerEyes.ts'
import type { DangerParts } from './dangerParts.ts'
import { lightBeside } from './dangerStray.ts'
import { bareLensBurns, sunBeside, sunFromASide, sunOverTheDay, sunThrownBack } from './dangerSun.ts'
import { DANGER_THINGS } from './dangerThings.ts'
import { type Finding, inMetric, type Severity } from './finding.ts'
import { celsius, degreesC, hotterBy, inSentence, kWm2, kWm2Plain, mm, seconds, tenthsUp } from './words.ts'

const RULES: readonly ((lamp: Lamp, parts: DangerParts) => Finding[])[] = [
  ...DANGER_THINGS,
  lightBeside,
  sunFromASide,
  sunBeside,
  sunThrownBack,
  sunOverTheDay,
  bareLensBurns,
  ...DANGER_EYES,
  lensSoftens,
  elementSoftens,
  liningLetsGo,
  boardPlastic,
  opticSoftens,
  thresholdsChanged,
]

const RANK: Record<Severity, number> = { severe: 0, warning: 1, note: 2 }

/** Sorts severe findings first; otherwise the order of the rules stays. */
export const checkDanger = (lamp: Lamp, parts: DangerParts): Finding[] =>
  RULES.flatMap((rule) => rule(lamp, parts))
    .map(inMetric)
    .sort((a, b) => RANK[a.severity] - RANK[b.severity])

function lensSoftens(lamp: Lamp, { parts }: DangerParts): Finding[] {
  const { lens } = parts
  if (!lens || lens.keepBelowC === null || lens.cleanC <= lens.keepBelowC) return []
  const sags = lens.deflectionC !== null && lens.cleanC > lens.deflectionC
  return [
    {
      rule: 'lens-softens',
      severity: sags ? 'severe' : 'warning',
      title: `Even clean, ${mappedWords(lamp)} can get to ${celsius(lens.cleanC)}, over the ${degreesC(lens.keepBelowC)} that ${inSentence(lens.material)} should stay below.`,
      why: `It can take in ${tenthsUp(100 * lens.absorbedShare)} % of up to ${kWm2(lens.kWm2)}, and stands over a face of ${celsius(lens.faceC)}. ${lens.source}`,
      cure: 'Spread the light over more of the lens, let air at it, or move it away from the face.',
      place: spotOn(lens.spot, lamp.lens ? 'lens' : 'front'),
    },
  ]
}

function elementSoftens(_: Lamp, { parts }: DangerParts): Finding[] {
  return parts.elements.flatMap((e): Finding[] => {
    const { name, spot, cleanC, keepBelowC, deflectionC } = e
    if (keepBelowC === null || cleanC <= keepBelowC) return []
    const light = spot
      ? `It can take in ${tenthsUp(100 * e.absorbedShare)} % of up to ${kWm2(e.kWm2)} on both its faces, and stands`
      : `No ray has met it, so less than ${kWm2(e.kWm2)}; it stands`
    return [
      {
        rule: 'element-softens',
        severity: deflectionC !== null && cleanC > deflectionC ? 'severe' : 'warning',
        title: `Even clean, “${name}” can get to ${celsius(cleanC)}, over the ${degreesC(keepBelowC)} that ${inSentence(e.material)} should stay below.`,
        why: `${light} over a face of ${celsius(e.faceC)}. ${e.source}`,
        cure: 'Glass in its place, wider light on it, more room to the face, or let air at it.',
        place: spot ? { ...spotOn(spot, 'lens'), of: name } : { kind: 'part', part: 'lens', of: name },
      },
    ]
  })
}

function liningLetsGo(_: Lamp, { parts }: DangerParts): Finding[] {
  const { wall } = parts
  const passed = wall?.limits.filter((l) => l.passed) ?? []
  if (!wall || passed.length === 0) return []
  return [
    {
      rule: 'lining',
      severity: 'warning',
      title: `The clean lining can get to ${celsius(wall.cleanC)}, ${mm(wall.spot.zMm)} above the face: too hot for ${passed.map((l) => `${l.name.toLowerCase()} (${degreesC(l.limitC)})`).join(', ')}.`,
      why: `It takes in ${Math.ceil(100 * wall.absorbedShare - 1e-9)} % of up to ${kWm2(wall.kWm2)}; a stained place gets to ${celsius(wall.dirtyC)}. ${passed[0]!.source}.`,
      cure: 'Bare metal there, or a lining that is riveted and not glued.',
      place: spotOn(wall.spot, 'wall'),
    },
  ]
}

function boardPlastic(_: Lamp, { parts }: DangerParts): Finding[] {
  const { boards } = parts
  // A face that is too hot without returned light is a finding of the heat model; here only what the returned light adds.
  if (!boards?.limit.passed || boards.plasticC - boards.faceC < 5) return []
  return [
    {
      rule: 'board-plastic',
      severity: 'warning',
      title: `Dark plastic on the face can get to ${celsius(boards.plasticC)} in the light that comes back, ${hotterBy(boards.plasticC - boards.faceC, '°C')} over the face’s own ${celsius(boards.faceC)} (${boards.faceFrom})${softens(boards.plasticSeconds)}.`,
      why: `Up to ${kWm2(boards.kWm2)} on a part that stands off the face. ${boards.limit.source}.`,
      cure: 'White or metal holders, wires behind the face.',
      place: spotOn(boards.spot, 'face'),
    },
  ]
}

const softens = (s: number | null): string =>
  s === null ? '' : s === 0 ? '; thin parts soften by the face alone' : `; thin parts soften in ${seconds(s)}`

function opticSoftens(_: Lamp, { parts }: DangerParts): Finding[] {
  return parts.optics
    .filter((o) => o.limit.passed)
    .map((o) => ({
      rule: 'optic-softens',
      severity: 'note' as const,
      title: `If it took in all that it doesn’t pass, the optic “${o.name}” would get to ${celsius(o.settlesC)}.`,
      why: `${roundedUp(o.takenW, 2)} W in one, over a face at up to ${celsius(o.faceC)}; most of it is reflected, not taken in. ${o.limit.source}.`,
      cure: 'Feel one (lamp off) after ten minutes; ask its maker what it bears.',
      place: { kind: 'part', part: 'optics' } as const,
    }))
}

function thresholdsChanged(_: Lamp, { clear: table }: DangerParts): Finding[] {
  const changed = table.filter((t) => t.changedFrom !== null)
  if (changed.length === 0) return []
  const softer = changed.some((t) => t.kWm2 > t.changedFrom!)
  return [
    {
      rule: 'thresholds-changed',
      severity: softer ? 'warning' : 'note',
      title: `This lamp carries thresholds of its own: ${changed.map((t) => `${inSentence(t.name)} ${kWm2Plain(t.kWm2)} in place of ${kWm2Plain(t.changedFrom!)}`).join(', ')}.`,
      why: 'Distances and times on the sheet follow them. The published values and their sources stand beside each.',
      cure: 'Take them out of the document to go back to the published ones.',
      place: { kind: 'part', part: 'target' },
    },
  ]
}

const spotOn = (s: { xMm: number; yMm: number; zMm: number }, on: 'lens' | 'wall' | 'face' | 'front') => ({
  kind: 'point' as const,
  xMm: s.xMm,
  yMm: s.yMm,
  zMm: s.zMm,
  on,
})
