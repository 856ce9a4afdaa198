import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { nameBound, shortBound } from '../../../base/text-bounds.ts';
import type { RollEntry } from '../../../run/run-file.ts';
import type { MaterialCard } from '../../api/shop.ts';
import { NumberField, TextField } from '../controls/fields.tsx';
import { Swatch } from '../controls/swatch.tsx';
import { RollPicture } from '../roll-picture/roll-picture.tsx';
import { metresDown } from '../words.ts';
import type { DefectShape } from '../roll-picture/places/defect.ts';
import { DefectList } from './defect-list.tsx';
import { DefectTools } from './defect-tools.tsx';
import { defectLine } from './defect-words.ts';
import { MeasuredWidths } from './measured-widths.tsx';
import { rollAsPictured, sampleOf, saidOrKnown } from './rolls.ts';
import { Stock } from './stock.tsx';

/** What is shorter or narrower is no roll, mm: metres were typed for millimetres. */
const leastRoll = 100;

/** The widest selvedge, mm. */
const mostSelvedge = 500;

/** Empty: it has none of its own. */
const rollName = /^$|^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$/;

const nobody: ReadonlySet<string> = new Set();

/** One roll: its figures, a picture to mark defects on, and the rolls that the shop remembers. */
export function RollForm({
  material,
  roll,
  taken,
  stock,
  onChange,
  onStock,
  onAdd,
  onRemove,
}: {
  material: MaterialCard;
  roll: RollEntry;
  /** What the other rolls of the cloth are called. */
  taken: readonly string[];
  stock: readonly RollEntry[];
  onChange: (roll: RollEntry) => void;
  onStock: () => void;
  onAdd: () => void;
  onRemove: (() => void) | null;
}): JSX.Element {
  const [tool, setTool] = useState<DefectShape | null>(null);
  return (
    <div class="two-panes roll-panes">
      <section class="pane" aria-labelledby="figures-title">
        <h2 id="figures-title">The roll</h2>
        {roll.colour !== undefined && (
          <p>
            <Swatch sample={sampleOf(material, roll.colour)} />
            {material.title}, {roll.colour}
          </p>
        )}
        <Figures material={material} roll={roll} taken={taken} onChange={onChange} />
        <MeasuredWidths material={material} roll={roll} onChange={onChange} />
        <Stock
          material={material}
          roll={roll}
          stock={stock}
          onChange={onChange}
          onStock={onStock}
        />
        <div class="actions">
          <button class="button" onClick={onAdd}>
            Add another roll
          </button>
          {onRemove !== null && (
            <button class="button" onClick={onRemove}>
              Leave this roll out
            </button>
          )}
        </div>
      </section>
      <section class="pane" aria-labelledby="defects-title">
        <div class="title-row">
          <h2 id="defects-title">Defects</h2>
          <DefectTools tool={tool} onTool={setTool} />
        </div>
        <div class="roll-picture">
          <RollPicture
            label={`Roll of ${material.title} with its defects`}
            roll={rollAsPictured(roll, material)}
            parts={[]}
            placements={[]}
            pinned={nobody}
            selected={nobody}
            onSelect={() => {}}
            canBeInRows
            defectTool={
              tool === null
                ? null
                : {
                    shape: tool,
                    lineWidth: defectLine,
                    onDefect: (defect) => onChange({ ...roll, defects: [...roll.defects, defect] }),
                  }
            }
          />
        </div>
        <DefectList
          defects={roll.defects}
          width={saidOrKnown(roll, material).width}
          length={saidOrKnown(roll, material).length}
          onChange={(defects) => onChange({ ...roll, defects })}
        />
      </section>
    </div>
  );
}

function Figures({
  material,
  roll,
  taken,
  onChange,
}: {
  material: MaterialCard;
  roll: RollEntry;
  taken: readonly string[];
  onChange: (roll: RollEntry) => void;
}): JSX.Element {
  const { width, selvedge, startMargin, length } = saidOrKnown(roll, material);
  const others = new Set(taken.map((name) => name.toLowerCase()));
  const usable = width - 2 * selvedge;
  const said = (figures: Partial<RollEntry>): void => onChange({ ...roll, ...figures });
  return (
    <div class="stack">
      <div class="row">
        <NumberField
          label="Full width"
          unit="mm"
          hint={`${material.width} by its file`}
          what="width of this roll"
          value={width}
          min={2 * selvedge + leastRoll}
          max={6000}
          onChange={(value) => said({ width: value ?? undefined })}
        />
        <NumberField
          label="Usable width"
          unit="mm"
          hint={`${selvedge} selvedge at each edge`}
          what="usable width of this roll"
          value={usable}
          min={Math.max(leastRoll, width - 2 * mostSelvedge)}
          max={width}
          onChange={(value) => said({ selvedge: (width - value!) / 2 })}
        />
      </div>
      <div class="row">
        <NumberField
          label="Length on the roll"
          unit="mm"
          hint={length === null ? 'Not said: taken to be enough' : metresDown(length)}
          what="length of a roll"
          value={roll.length ?? null}
          min={leastRoll}
          max={1e6}
          optional
          onChange={(value) => said({ length: value ?? undefined })}
        />
        <NumberField
          label="Start margin"
          unit="mm"
          hint="Left at the start of the roll"
          what="start margin"
          value={startMargin}
          min={0}
          max={2000}
          onChange={(value) => said({ startMargin: value ?? undefined })}
        />
      </div>
      <div class="row">
        <TextField
          label="Dye lot"
          hint="As on the ticket"
          value={roll.dyeLot ?? ''}
          bound={shortBound}
          onChange={(value) => said({ dyeLot: value === '' ? undefined : value })}
        />
        <TextField
          label="Name"
          hint="What the shop calls it"
          value={roll.name ?? ''}
          bound={nameBound}
          fits={(text) => rollName.test(text) && !others.has(text.toLowerCase())}
          wrongWords="Letters and digits, joined by single hyphens, and no other roll’s name."
          onChange={(value) => said({ name: value === '' ? undefined : value })}
        />
      </div>
    </div>
  );
}
