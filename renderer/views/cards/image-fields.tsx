import { Checkbox } from '@mantine/core'
import { PathField } from '../../elements/path-field.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'

interface ImageFieldsProps {
  readonly imagePath: string
  onImagePath(imagePath: string): void
  readonly replace: boolean
  onReplace(replace: boolean): void
}

/** Where an image is to be written, and whether one that is there may be replaced. */
export function ImageFields({ imagePath, onImagePath, replace, onReplace }: ImageFieldsProps) {
  const status = valueOr(useAsk('workshop:status', {}), undefined)
  return (
    <>
      <PathField
        label="Image file"
        description={
          status === undefined ? 'A full path' : `A full path, or a name in ${status.imagesFolder}`
        }
        kinds={['image-to-write']}
        value={imagePath}
        onChange={onImagePath}
      />
      <Checkbox
        label="Replace an image of this name, if there is one"
        checked={replace}
        onChange={(event) => onReplace(event.currentTarget.checked)}
      />
    </>
  )
}
