import type { Severity } from '../../app/model/finding.ts'
import { Icon } from './icon.tsx'

const TONES: Readonly<Record<Severity, string>> = {
  error: 'tone-bad',
  warning: 'tone-care',
  note: 'tone-unknown',
}

export function SeverityMark({ severity }: { readonly severity: Severity }) {
  return (
    <span className={`mark ${TONES[severity]}`}>
      <Icon name={severity} />
      {severity}
    </span>
  )
}
