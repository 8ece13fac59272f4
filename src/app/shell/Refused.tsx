// A file that doesn't fit: which field, what stands there, what may.
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { Button } from '../ui/Button.tsx'
import { shell, useShell } from './page.ts'

export function Refused() {
  const refused = useShell((s) => s.refused)
  return (
    <ModalOverlay
      className="shell-over"
      isDismissable
      isOpen={refused !== null}
      onOpenChange={(open) => open || shell.setState({ refused: null })}
    >
      <Modal className="ui-popover shell-modal">
        <Dialog role="alertdialog" className="shell-modal-body">
          <Heading slot="title">“{refused?.file}” was not opened</Heading>
          <p>The lamp on the sheet is as it was. In the file:</p>
          <ul className="shell-why">
            {refused?.why.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <div className="shell-modal-buttons">
            <Button slot="close">Close</Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
