// Covers, films and further lenses in the order in which light meets them, the lens among them.

import { useState } from 'react'
import { elementsOf, rowOrder } from '../../lamp/assembly.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Element, Lamp } from '../../lamp/schema.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { valueText } from '../common/units.ts'
import { openPart } from '../store/openParts.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { newElement } from './defaults.ts'
import { ErrorText } from './ErrorText.tsx'
import { withElement, withElements } from './edits.ts'
import { LampText } from './fields.tsx'
import { Part } from './Part.tsx'
import { PieceFields } from './PieceFields.tsx'
import { elementHost, PieceContext } from './piece.ts'

const NEW: readonly { kind: Element['kind']; name: string }[] = [
  { kind: 'cover', name: 'Clear cover' },
  { kind: 'diffuser', name: 'Diffuser film' },
  { kind: 'fresnel', name: 'Fresnel lens' },
  { kind: 'solid', name: 'Solid lens' },
]

export function ElementsPart() {
  const summary = useDesign(({ lamp: { elements } }) =>
    elements ? (elements.length === 1 ? elements[0]!.name : `${elements.length} pieces`) : 'none',
  )
  return (
    <Part of="elements" title="Cover, film, second lens" summary={summary} edits="Element">
      <p className="parts-note">What light passes between the tunnel and the outside besides the lens, by its z.</p>
      <Row />
      <Add />
    </Part>
  )
}

/** The row in one text, so that only a change of it renders it anew. */
const rowText = (lamp: Lamp, system: UnitSystem): string => {
  const order = rowOrder(lamp)
  return elementsOf(lamp)
    .map((e, i) => `${order[i]}|${e.kind}|${valueText(e.zMm, 'mm', system)}`)
    .join('\n')
}

function Row() {
  const system = useUnitSystem()
  const row = useDesign((s) => (s.lamp.elements ? rowText(s.lamp, system) : ''))
  if (row === '') return null
  return (
    <>
      {row.split('\n').map((line) => {
        const [which, kind, z] = line.split('|') as [string, Element['kind'], string]
        if (which === '-1')
          return (
            <p key="lens" className="parts-row-lens">
              <span>Lens</span>
              <span>at {z}</span>
            </p>
          )
        return <One key={which} at={Number(which)} kind={kind} z={z} />
      })}
    </>
  )
}

function One({ at, kind, z }: { at: number; kind: Element['kind']; z: string }) {
  const name = useDesign((s) => s.lamp.elements?.[at]?.name ?? '')
  const [why, setWhy] = useState<string | null>(null)
  return (
    <PieceContext value={elementHost(at)}>
      <Part
        of={`element${at}`}
        title={name}
        name={`Element ${at + 1}: ${name}`}
        summary={`at ${z}`}
        level={3}
        edits={name}
      >
        <LampText
          label="Name"
          read={(lamp) => lamp.elements?.[at]?.name ?? ''}
          write={(lamp, text) => withElement(lamp, at, { name: text })}
        />
        <PieceFields kind={kind} />
        <div className="parts-buttons">
          <Button
            kind="quiet"
            name={`Remove ${name}`}
            onPress={() =>
              setWhy(
                tryEdit(design, `Remove ${name}`, (lamp) =>
                  withElements(
                    lamp,
                    (lamp.elements ?? []).filter((_, i) => i !== at),
                  ),
                ),
              )
            }
          >
            Remove
          </Button>
        </div>
        <ErrorText why={why} />
      </Part>
    </PieceContext>
  )
}

function Add() {
  const count = useDesign((s) => s.lamp.elements?.length ?? 0)
  const [why, setWhy] = useState<string | null>(null)
  const isFull = count >= LIMITS.elements
  return (
    <>
      <div className="parts-buttons">
        {NEW.map(({ kind, name }) => (
          <Button
            key={kind}
            name={`Add a ${name.toLowerCase()}`}
            isDisabled={isFull}
            hint={isFull ? `At most ${LIMITS.elements}` : undefined}
            onPress={() => {
              const fault = tryEdit(design, `Add a ${name.toLowerCase()}`, (lamp) =>
                withElements(lamp, [...(lamp.elements ?? []), newElement(lamp, kind, name)]),
              )
              setWhy(fault)
              if (fault === null) openPart(`element${count}`, true)
            }}
          >
            + {name}
          </Button>
        ))}
      </div>
      <ErrorText why={why} />
    </>
  )
}
