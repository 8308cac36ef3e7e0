import {
  createTheme,
  defaultVariantColorsResolver,
  type CSSVariablesResolver,
  type MantineColorsTuple,
} from '@mantine/core'

const verdigris: MantineColorsTuple = [
  '#e6f4f0',
  '#d0e8e1',
  '#a9d6ca',
  '#8ad1c1',
  '#79cdbd',
  '#3f9c8d',
  '#1e7a6e',
  '#0b5f56',
  '#084c45',
  '#053933',
]
const brick: MantineColorsTuple = [
  '#fbeae7',
  '#f6d6d1',
  '#f2b9b0',
  '#f29d92',
  '#e07a6d',
  '#c65346',
  '#b03a2e',
  '#98281f',
  '#7c1f18',
  '#5f1611',
]

const dark: MantineColorsTuple = [
  '#e9e6dc',
  '#c9cfc9',
  '#a9b3ac',
  '#7d8a83',
  '#46524d',
  '#2d3633',
  '#222a28',
  '#1b2220',
  '#131817',
  '#0e1211',
]

/** Cardwright's own look on the component library: colours from palette.css, sizes for a bench. */
export const theme = createTheme({
  fontFamily: 'system-ui, "Segoe UI", "Helvetica Neue", "DejaVu Sans", sans-serif',
  primaryColor: 'verdigris',
  primaryShade: { light: 7, dark: 4 },
  colors: { verdigris, brick, dark },
  // Ink on filled grounds follows the scheme, which the library's own contrast does not.
  variantColorResolver(input) {
    const colours = defaultVariantColorsResolver(input)
    return input.variant === 'filled' ? { ...colours, color: 'var(--filled-ink)' } : colours
  },
  defaultRadius: 'sm',
  cursorType: 'pointer',
  components: {
    // Hints below their fields, so that fields of one row stand on one line.
    InputWrapper: { defaultProps: { inputWrapperOrder: ['label', 'input', 'description', 'error'] } },
  },
  fontSizes: { sm: '1rem', xs: '0.9rem' },
})

/** Lets the components take their grounds and inks from palette.css, in both schemes. */
export const cssVariables: CSSVariablesResolver = () => {
  const shared = {
    '--mantine-color-body': 'var(--sheet)',
    '--mantine-color-text': 'var(--ink)',
    '--mantine-color-dimmed': 'var(--ink-quiet)',
    '--mantine-color-default': 'var(--sheet)',
    '--mantine-color-default-hover': 'var(--sheet-raised)',
    '--mantine-color-default-color': 'var(--ink)',
    '--mantine-color-default-border': 'var(--line-strong)',
    '--mantine-color-placeholder': 'var(--ink-quiet)',
    '--mantine-color-error': 'var(--brick)',
    '--mantine-color-anchor': 'var(--verdigris)',
  }
  return { variables: {}, light: shared, dark: shared }
}
