import type { ReactNode } from 'react'
import { openPart, useOpen } from '../store/openParts.ts'
import { Group } from '../ui/Group.tsx'
import { PartName } from './fields.tsx'

export interface PartProps {
  /** Key of the open state. */
  of: string
  title: string
  summary?: string | undefined
  level?: 2 | 3 | 4 | undefined
  /** Accessible name of the section, where the title stands more than once in the column. */
  name?: string | undefined
  /** Name used in the labels of edits, where it differs from the title. */
  edits?: string
  children: ReactNode
}

/** A group of the column; its name is part of the labels of its edits. */
export function Part(p: PartProps) {
  const open = useOpen(p.of)
  return (
    <PartName value={p.edits ?? p.title}>
      <section id={`part-${p.of}`} aria-label={p.name ?? p.title}>
        <Group title={p.title} summary={p.summary} level={p.level} isOpen={open} onToggle={(on) => openPart(p.of, on)}>
          {p.children}
        </Group>
      </section>
    </PartName>
  )
}
