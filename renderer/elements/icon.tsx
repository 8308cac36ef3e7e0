/** Our own simple icons, on a grid of 24; each stands beside its word and is hidden from readers. */
const DRAWINGS = {
  fonts: 'M8 3v7a4 4 0 0 0 8 0V3M12 14v7M4 6v3M20 6v3',
  boards: 'M5 4h14v16H5zM9 9h6v6H9zM2 8h3M2 12h3M2 16h3M19 8h3M19 12h3M19 16h3',
  builds: 'M8 2h8l-1.5 3v14L16 22H8l1.5-3V5zM9.5 13h5M9.5 16h5M12 8v2',
  cards: 'M5 3h10l4 4v14H5zM9 3v4M12 3v4M8 17v-4M12 17v-6M16 17v-2',
  ready: 'M4 13l5 5L20 6',
  fixable: 'M14 4l6 6M12 6l6 6-9 9-5 1 1-5z',
  blocked: 'M5 5l14 14M12 3a9 9 0 1 0 .01 0z',
  unrecognised: 'M8 9a4 4 0 1 1 5.5 3.7c-1 .4-1.5 1-1.5 2.3M12 19.5v.01',
  error: 'M8 3h8l5 5v8l-5 5H8l-5-5V8zM12 7.5v5.5M12 16.5v.01',
  warning: 'M12 4l9 16H3zM12 10v4M12 17v.01',
  note: 'M6 3h12v18H6zM9 8h6M9 12h6M9 16h3',
  up: 'M12 19V5M6 11l6-6 6 6',
  down: 'M12 5v14M6 13l6 6 6-6',
  remove: 'M6 6l12 12M18 6L6 18',
  add: 'M12 5v14M5 12h14',
  grip: 'M9 5v.01M15 5v.01M9 12v.01M15 12v.01M9 19v.01M15 19v.01',
  drive: 'M6 3h9l4 4v14H6zM10 7v3M13 7v3M3 13l3 3 3-3M3 16h6',
  play: 'M8 5l11 7-11 7z',
  stop: 'M7 7h10v10H7z',
  folder: 'M3 6h6l2 3h10v10H3z',
  search: 'M10.5 4a6.5 6.5 0 1 0 .01 0zM15.5 15.5L21 21',
  licence: 'M5 3h14v12H5zM9 7h6M9 11h3M10 15v6l2-1.5 2 1.5v-6',
  light:
    'M12 8a4 4 0 1 0 .01 0zM12 2v2M12 20v2M2 12h2M20 12h2M5 5l1.5 1.5M17.5 17.5L19 19M19 5l-1.5 1.5M6.5 17.5L5 19',
  dark: 'M20 14A8.5 8.5 0 1 1 10 4a7 7 0 0 0 10 10z',
} as const

export type IconName = keyof typeof DRAWINGS

export function Icon({ name }: { readonly name: IconName }) {
  return (
    <svg className="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d={DRAWINGS[name]} />
    </svg>
  )
}
