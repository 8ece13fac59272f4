// Emitter types of the lamp: library class, flux, source, profile, spectrum; the tables of the data sheet are folded.
import { useState } from 'react'
import { board, emitterType } from '../../lamp/parts.ts'
import type { EmitterType, Lamp } from '../../lamp/schema.ts'
import { EMITTERS } from '../../library/emitters.ts'
import { formatNumber } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { EmitterLight } from './EmitterLight.tsx'
import { EmitterSheet } from './EmitterSheet.tsx'
import { currentOf, freeId, isUsed, replacedEmitter, withCurrentOf, withEmitter } from './edits.ts'

import { LampNumber, LampText } from './fields.tsx'
import { Part } from './Part.tsx'
import { TypeRow, useRow } from './TypeRow.tsx'

const of = emitterType.shape

const emitterOf = (lamp: Lamp, id: string): EmitterType =>
  lamp.emitterTypes.find((e) => e.id === id) ?? lamp.emitterTypes[0]!

export function EmittersPart() {
  const rows = useDesign((s) => s.lamp.emitterTypes)
  const count = useDesign((s) => countEmitters(s.lamp))
  const [id, choose] = useRow(rows)
  const row = rows.find((r) => r.id === id)!
  return (
    <Part of="emitters" title="Emitters" summary={`${count} × ${formatNumber(row.fluxLm)} lm`} edits="Emitter">
      <TypeRow
        list="emitterTypes"
        what="emitter"
        id={id}
        choose={choose}
        copy={() => {
          const lamp = design.lamp()
          const next = { ...emitterOf(lamp, id), id: freeId(lamp.emitterTypes, id) }
          return {
            lamp: { ...lamp, emitterTypes: [...lamp.emitterTypes, { ...next, name: `${next.name}, copy` }] },
            id: next.id,
          }
        }}
        canDelete={(lamp) => lamp.emitterTypes.length > 1 && !isUsed(lamp, 'emitterTypes', id)}
      />
      <ClassPick id={id} />
      <LampText
        label="Name"
        read={(lamp) => emitterOf(lamp, id).name}
        write={(lamp, name) => withEmitter(lamp, id, { name })}
      />
      <LampNumber
        label="Flux when rated"
        unit="lm"
        step={10}
        of={of.fluxLm}
        description="Light of one emitter at its rated current and junction temperature"
        read={(lamp) => emitterOf(lamp, id).fluxLm}
        write={(lamp, fluxLm) => withEmitter(lamp, id, { fluxLm })}
      />
      <LampNumber
        label="Current, all boards"
        unit="A"
        step={0.05}
        of={board.shape.currentA}
        description="Through each emitter; more current is more light and much more heat"
        read={(lamp) => currentOf(lamp, id)}
        write={(lamp, a) => withCurrentOf(lamp, id, a)}
      />
      <EmitterLight id={id} />
      <EmitterSheet id={id} />
      <p className="parts-note">{row.note}</p>
    </Part>
  )
}

const countEmitters = (lamp: Lamp): number => {
  const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  return lamp.boards.reduce((n, b) => n + (sites.get(b.type) ?? 0), 0)
}

const sameData = (a: EmitterType, b: EmitterType) =>
  JSON.stringify({ ...a, id: '' }) === JSON.stringify({ ...b, id: '' })

function ClassPick({ id }: { id: string }) {
  const row = useDesign((s) => emitterOf(s.lamp, id))
  const [key, setKey] = useState(0) // resets the list to "own numbers" when a choice is refused
  const found = (row.rays ? undefined : EMITTERS.find((e) => sameData(e, row))?.id) ?? 'own'
  return (
    <Choice
      key={key}
      label="Class"
      description="Typical numbers of a class; replace them with those of the part in hand"
      value={found}
      options={[
        ...EMITTERS.map((e) => ({ key: e.id, name: e.name })),
        ...(found === 'own' ? [{ key: 'own', name: 'own numbers' }] : []),
      ]}
      onChoose={(picked) => {
        const by = EMITTERS.find((e) => e.id === picked)
        if (by && tryEdit(design, `Emitter: ${by.name}`, (lamp) => replacedEmitter(lamp, id, by))) setKey(key + 1)
      }}
    />
  )
}
