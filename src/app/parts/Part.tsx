import type { ReactNode } from 'react'
import type { HandbookPage } from '../store/handbook.ts'
import { openPart, useOpen } from '../store/openParts.ts'
import { Group } from '../ui/Group.tsx'
import { HandbookLink } from '../ui/HandbookLink.tsx'
import { PartName } from './fields.tsx'

export interface PartProps {
  /** Key of the open state. */
  of: string
  title: string
  summary?: ReactNode
  level?: 2 | 3 | 4 | undefined
  /** Accessible name of the section, where the title stands more than once in the column. */
  name?: string | undefined
  /** Name used in the labels of edits, where it differs from the title. */
  edits?: string
  children: ReactNode
}

/** Where a part's questions are answered. */
const ANSWERS: Record<string, HandbookPage> = {
  target: '01-first-lamp',
  boards: '02-how-many-boards',
  optics: '03-which-collimator',
  lens: '04-the-lens',
  tunnel: '05-the-tunnel',
  heat: '08-heat-and-minutes',
  power: '09-battery-fuses-wires',
  reading: '06-reading-the-sheet',
  workshop: '10-cutting',
}

/** A group of the column; its name is part of the labels of its edits. */
export function Part(p: PartProps) {
  const open = useOpen(p.of)
  const answer = ANSWERS[p.of]
  return (
    <PartName value={p.edits ?? p.title}>
      <section id={`part-${p.of}`} aria-label={p.name ?? p.title}>
        <Group title={p.title} summary={p.summary} level={p.level} isOpen={open} onToggle={(on) => openPart(p.of, on)}>
          {p.children}
          {answer && <HandbookLink page={answer} />}
        </Group>
      </section>
    </PartName>
  )
}
