import { Dialog, DialogTrigger, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { Push } from '../ui/Button.tsx'

export interface ConfirmProps {
  button: string
  name: string
  title: string
  text: string
  yes: string
  onYes(): void
}

/** A button that asks first. */
export function Confirm(p: ConfirmProps) {
  return (
    <DialogTrigger>
      <Push kind="quiet" name={p.name}>
        {p.button}
      </Push>
      <ModalOverlay className="shell-over">
        <Modal className="ui-popover shell-modal">
          <Dialog role="alertdialog" className="shell-modal-body">
            <Heading slot="title">{p.title}</Heading>
            <p>{p.text}</p>
            <div className="shell-modal-buttons">
              <Push slot="close">Keep it</Push>
              <Push kind="danger" slot="close" onPush={p.onYes}>
                {p.yes}
              </Push>
            </div>
          </Dialog>
        </Modal>
      </ModalOverlay>
    </DialogTrigger>
  )
}
