import { printable } from './printable.ts'

/** What a person should know of what was prepared. */
export function cautionLines({ cautions }: { readonly cautions: readonly string[] }): string[] {
  return cautions.map((caution) => printable(`Caution: ${caution}`))
}
