import { heat } from '../../lamp/parts.ts'
import { showNumber } from '../measure/units.ts'
import { useDesign } from '../store/stores.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { Part } from './Part.tsx'

const board = heat.options[1]

export function HeatPart() {
  const boardC = useDesign((s) => (s.lamp.heat.kind === 'board' ? s.lamp.heat.boardC : null))
  return (
    <Part of="heat" title="Heat" gist={boardC === null ? 'junctions as rated' : `boards at ${showNumber(boardC)} °C`}>
      <LampChoice
        label="Junctions"
        segments
        does="Hot emitters give less light: as rated, or from the boards' temperature"
        options={[
          { key: 'rated', name: 'as rated' },
          { key: 'board', name: 'from the boards' },
        ]}
        read={(lamp) => lamp.heat.kind}
        write={(lamp, kind) => ({ ...lamp, heat: kind === 'rated' ? { kind } : { kind: 'board', boardC: 60 } })}
      />
      {boardC !== null && (
        <LampNumber
          label="Boards run at"
          unit="°C"
          step={1}
          of={board.shape.boardC}
          does="Junctions are hotter than this by their heat and resistance; the flux follows"
          read={(lamp) => (lamp.heat.kind === 'board' ? lamp.heat.boardC : null)}
          write={(lamp, boardC) => ({ ...lamp, heat: { kind: 'board', boardC } })}
        />
      )}
    </Part>
  )
}
