import { DYE_CLASS_NAMES, DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import { CONDITIONS } from '../../../src/dye/dye-conditions.ts';
import { capital, FIBRES } from '../../../src/dye/fibre.ts';
import { EFFICIENCIES, HEATER_KINDS, HEATER_NAMES, MATERIALS } from '../../../src/dye/heater.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import { WHAT_CHOICES } from '../recipe/form.ts';

export interface QuickChoices {
  readonly fibres: readonly Choice[];
  readonly classes: readonly Choice[];
  readonly groups: readonly Choice[];
  readonly depths: readonly Choice[];
  readonly weighed: readonly Choice[];
  readonly what: readonly Choice[];
  readonly stated: readonly Choice[];
  readonly materials: readonly Choice[];
  readonly heaters: readonly Choice[];
}

/** What the quick bath offers to choose from. */
export function quickChoices(): QuickChoices {
  const of = (values: readonly string[]) => values.map((value) => ({ value, label: capital(value) }));
  const reactive = CONDITIONS.filter(({ dyeClass, vessel }) => dyeClass === 'reactive' && vessel === 'open');
  return {
    fibres: withBlank(
      FIBRES.map(({ code, name }) => ({ value: code, label: capital(name) })),
      'None',
    ),
    classes: withBlank(
      DYE_CLASSES.map((each) => ({ value: each, label: capital(DYE_CLASS_NAMES[each]) })),
      'The usual first choice',
    ),
    groups: withBlank(of([...new Set(reactive.map(({ method }) => method))]), 'None'),
    depths: withBlank(of(['pale', 'medium', 'dark']), 'As the dyes below say'),
    weighed: withBlank(
      [
        { value: 'conditioned', label: 'Air-dry (conditioned)' },
        { value: 'oven-dry', label: 'Oven-dry' },
        { value: 'wet', label: 'Wet or damp' },
      ],
      'Choose',
    ),
    what: withBlank(WHAT_CHOICES, 'None'),
    stated: withBlank(
      WHAT_CHOICES.filter(({ value }) => !value.endsWith('/as-sold')),
      'The same form',
    ),
    materials: withBlank(of(MATERIALS), 'Not said'),
    heaters: withBlank(
      HEATER_KINDS.map((kind) => ({
        value: kind,
        label: `${capital(HEATER_NAMES[kind])}, ${showPercent(EFFICIENCIES[kind].bp)}`,
      })),
      'Not said: as an electric plate',
    ),
  };
}
