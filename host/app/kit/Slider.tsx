import { Label } from "react-aria-components/Label";
import { Slider as AriaSlider, SliderOutput, SliderThumb, SliderTrack } from "react-aria-components/Slider";

/** A value drawn along a rule; `say` writes it with its unit. */
export function Slider({
  label,
  value,
  least,
  greatest,
  step,
  say,
  onChange,
  onChangeEnd,
  isDisabled = false,
}: {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly greatest: number;
  readonly step: number;
  readonly say: (value: number) => string;
  readonly onChange: (value: number) => void;
  readonly onChangeEnd?: (value: number) => void;
  readonly isDisabled?: boolean;
}) {
  return (
    <AriaSlider
      className="slider"
      value={value}
      minValue={least}
      maxValue={greatest}
      step={step}
      isDisabled={isDisabled}
      onChange={(v) => onChange(v as number)}
      onChangeEnd={(v) => onChangeEnd?.(v as number)}
    >
      <Label>{label}</Label>
      <SliderOutput>{() => say(value)}</SliderOutput>
      <SliderTrack className="track">
        <SliderThumb className="thumb" aria-valuetext={say(value)} />
      </SliderTrack>
    </AriaSlider>
  );
}
