// The key sheet, read from the actions.
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { inSystem } from '../../num/quantity.ts'
import { chordText } from '../actions/keys.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { ACTIONS } from './actions.ts'
import { keyRows } from './keyRows.ts'
import { shell, useShell } from './page.ts'

const apple = typeof navigator !== 'undefined' && /Mac|iPhone|iPad/.test(navigator.userAgent)

export function HelpSheet() {
  const open = useShell((s) => s.help)
  const system = useUnitSystem()
  return (
    <ModalOverlay className="shell-over" isDismissable isOpen={open} onOpenChange={(help) => shell.setState({ help })}>
      <Modal className="ui-popover shell-modal shell-help">
        <Dialog className="shell-modal-body">
          <Heading slot="title">Keys</Heading>
          <div className="shell-keys">
            {[...new Set(ACTIONS.filter((a) => a.keys.length > 0).map((a) => a.group))].map((group) => (
              <section key={group}>
                <h3>{group}</h3>
                <dl>
                  {keyRows(ACTIONS, group).map(([what, keys]) => (
                    <Row key={what} what={inSystem(what, system)} keys={keys.map((k) => chordText(k, apple))} />
                  ))}
                </dl>
              </section>
            ))}
            <section>
              <h3>Number fields</h3>
              <dl>
                <Row what="One step" keys={['↑', '↓']} />
                <Row what="Ten steps" keys={['Shift ↑', 'Shift ↓']} />
                <Row what="Take what was typed" keys={['Enter']} />
                <Row what="Bring the old value back" keys={['Esc']} />
              </dl>
              <p className="shell-quiet">
                Type a value with any unit of its kind: 2 in, 1 1/2 in, 0.3 m, 0.5 rad, 2.5 klm, 350 mA, 88 %. Drag a
                field’s name sideways to change it smoothly.
              </p>
            </section>
          </div>
          <div className="shell-modal-buttons">
            <Button slot="close">Close</Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function Row({ what, keys }: { what: string; keys: readonly string[] }) {
  return (
    <div>
      <dt>{what}</dt>
      <dd>
        {keys.map((k) => (
          <kbd key={k}>{k}</kbd>
        ))}
      </dd>
    </div>
  )
}
