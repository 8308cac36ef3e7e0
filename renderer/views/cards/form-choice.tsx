import { Radio } from '@mantine/core'
import type { CardForm } from '../../hooks/use-card-draft.tsx'

interface FormChoiceProps {
  readonly form: CardForm
  readonly onChange: (form: CardForm) => void
}

/** In which of its two forms content is written. */
export function FormChoice({ form, onChange }: FormChoiceProps) {
  return (
    <section className="sheet" aria-label="Form">
      <Radio.Group label="Write it" value={form} onChange={(next) => onChange(next as CardForm)}>
        <div className="row forms">
          <Radio
            value="image"
            label="as an image file"
            description="To keep, or to write to a whole card with the system's own means"
          />
          <Radio
            value="files"
            label="into a card or a folder"
            description="File by file, in play order, to a card that the computer shows as a drive"
          />
        </div>
      </Radio.Group>
    </section>
  )
}
