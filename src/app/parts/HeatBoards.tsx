// Thermal resistance from an emitter's pads to the plate, by board type.
import { boardThermal } from '../../lamp/power.ts'
import type { BoardType, Lamp } from '../../lamp/schema.ts'
import { useDesign } from '../store/stores.ts'
import { Choice } from '../ui/Choice.tsx'
import { LampNumber } from './fields.tsx'
import { Part } from './Part.tsx'
import { thermalOf, withThermal } from './powerEdits.ts'
import { useRow } from './TypeRow.tsx'

const of = boardThermal.shape

export function HeatBoards() {
  const types = useDesign((s) => s.lamp.boardTypes)
  if (types.length === 0) return null
  return <OfTypes types={types} />
}

function OfTypes({ types }: { types: readonly BoardType[] }) {
  const [id, choose] = useRow(types)
  const shown = types.find((t) => t.id === id)!
  const typeOf = (lamp: Lamp) => lamp.boardTypes.find((t) => t.id === id)
  const read = (lamp: Lamp) => {
    const type = typeOf(lamp)
    return type ? thermalOf(lamp, type) : null
  }
  return (
    <Part of="heat-boards" title="Boards on the plate" summary={shown.thermal ? 'measured' : 'typical'} level={3}>
      {types.length > 1 && (
        <Choice
          label="Board type"
          value={id}
          options={types.map((t) => ({ key: t.id, name: t.name }))}
          asTyped
          onChoose={choose}
        />
      )}
      {!shown.thermal && (
        <p className="parts-note">
          Not in the lamp: a typical metal-core board and thermal paste are taken. An edit here writes it into the lamp.
        </p>
      )}
      <LampNumber
        label="Pads to underside"
        unit="K/W"
        step={0.5}
        digits={2}
        of={of.padKW}
        description="Of one emitter: dielectric, and the spreading in the board’s metal"
        read={(lamp) => read(lamp)?.padKW ?? null}
        write={(lamp, padKW) => withThermal(lamp, id, { padKW })}
      />
      <LampNumber
        label="Joint, each cm²"
        unit="K/W"
        step={0.1}
        digits={2}
        of={of.jointKcm2W}
        description="Between board and plate; twice the area has half of it. Thin paste is taken as 0.3"
        read={(lamp) => read(lamp)?.jointKcm2W ?? null}
        write={(lamp, jointKcm2W) => withThermal(lamp, id, { jointKcm2W })}
      />
    </Part>
  )
}
