// The danger sheet in full, as the terminal and the sheet to hang up have it. Every figure is an upper end.

import { flickerWords, groupSentence, HAZARDS, riskWords } from '../../checks/eyeWords.ts'
import { standardMm } from '../../checks/words.ts'
import type { DangerReading } from '../../job/danger/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { inSystem, sizeText } from '../../num/quantity.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import {
  beforePower,
  coverRule,
  EYE_NOTE,
  eyeLeadSentence,
  FIRST_RULE,
  FLICKER_NOTE,
  SCREENING_NOTE,
  SUN_NOTE,
  trafficSentence,
} from '../danger.ts'
import { leadDistances } from '../dangerLead.ts'
import { lightSentence, ownPlaceSentences, sunPlaceSentences, turnedSentence } from '../dangerPlaces.ts'
import {
  bareLensSentence,
  clearRows,
  EYE_HEAD,
  eyeRows,
  harmTables,
  partRows,
  sunDaySentence,
  sunTiltRows,
  thingRows,
} from '../dangerRows.ts'
import { whole } from '../numbers.ts'
import { findingBlocks, heading, list, paragraph, paragraphs, table, values } from './blocks.ts'
import type { Block } from './model.ts'

export function dangerBlocks(d: DangerReading, lamp: Lamp, system: UnitSystem): Block[] {
  const cover = coverRule(lamp)
  return [
    values(
      leadDistances(d, system).map(({ what, figure, reached, of }) => [
        reached && of !== 'eye' ? `${what}: keep clear by` : what,
        figure,
      ]),
    ),
    paragraph(FIRST_RULE),
    ...paragraphs([
      inSystem(lightSentence(d), system),
      `${whole(d.rays)} rays, seed ${d.seed}; upper ends at 95 %, over a disc of ${inSystem(sizeText(String(Number(d.discMm.toPrecision(3))), d.discMm), system)}.`,
    ]),
    ...(d.findings.length > 0 ? [heading('Findings'), ...findingBlocks(d.findings)] : []),
    heading('Keep clear, from the lamp’s front'),
    table(clearRows(d, system), { head: ['What', 'clear by', 'harm from', 'at the worst place', ''], right: [1] }),
    ...paragraphs(ownPlaceSentences(d, system)),
    ...eyeBlocks(d, system),
    ...sunBlocks(d, lamp, system),
    ...(cover === null ? [] : [heading('Cover'), paragraph(cover)]),
    heading('Nothing in the way'),
    table(
      thingRows(d, system).map(({ row, also }) => [...row.slice(0, 4), [row[4], also].filter((t) => t).join('; ')]),
      { right: [2] },
    ),
    ...(d.harm.length > 0 ? [heading('Time to harm at a distance')] : []),
    ...harmTables(d, system).map(([head = [], ...rows]) => table(rows, { head, right: [1, 2, 3, 4, 5, 6] })),
    heading('The lamp’s own parts'),
    table(partRows(d, system)),
    ...paragraphs(d.parts.boards ? [`The face by itself, ${d.parts.boards.faceFrom}.`] : []),
    heading('Before power'),
    { kind: 'checks', items: beforePower(lamp).map((text) => ({ text, done: false })) },
    paragraph(SCREENING_NOTE),
  ]
}

function eyeBlocks(d: DangerReading, system: UnitSystem): Block[] {
  const { eye } = d
  if (!eye) return [heading('Eyes'), paragraph('No light leaves the lamp.')]
  return [
    heading('Eyes'),
    paragraph(eyeLeadSentence(eye, system)),
    table(eyeRows(d, system), { head: EYE_HEAD, right: [1, 2, 3, 4] }),
    paragraph(inSystem(`${groupSentence(eye.risk)}. At ${standardMm(200)}:`, system)),
    table(eye.risk.at200.rows.map((r) => [HAZARDS[r.hazard], riskWords(r)])),
    ...paragraphs([trafficSentence(eye, system), ...eye.flicker.map((f) => `Flicker: ${flickerWords(f)}.`)]),
    paragraph(EYE_NOTE, true),
    paragraph(FLICKER_NOTE, true),
  ]
}

function sunBlocks(d: DangerReading, lamp: Lamp, system: UnitSystem): Block[] {
  const sentences = [
    sunDaySentence(d, lamp, system),
    turnedSentence(d),
    ...sunPlaceSentences(d, system),
    bareLensSentence(d, system),
  ].filter((t) => t !== '')
  if (d.sunMap.length === 0 && sentences.length === 0) return []
  return [
    heading('Sun falling in'),
    ...(d.sunMap.length > 0 ? [table(sunTiltRows(d, system), { head: ['Sun', 'up to', 'on', 'at'], right: [1] })] : []),
    list(sentences),
    ...(d.sunMap.length > 0 ? [paragraph(SUN_NOTE, true)] : []),
  ]
}

/** Sources of the thresholds. */
export const thresholdSources = (d: DangerReading): [string, string][] => d.clear.map((c) => [c.name, c.source])
