/** What the page is made of: controls, marks, sheets and drawings in the page's own look. */
export { Button, IconButton } from "./Button.tsx";
export { Dialog } from "./Dialog.tsx";
export { Field, QuantityField } from "./Field.tsx";
export { type Drawing, Figure } from "./Figure.tsx";
export { Menu } from "./Menu.tsx";
export { Progress } from "./Progress.tsx";
export { Segments } from "./Segments.tsx";
export { type Option, Select } from "./Select.tsx";
export { Sheet, TitleBlock } from "./Sheet.tsx";
export { Sign, type SignName } from "./Sign.tsx";
export { Slider } from "./Slider.tsx";
export { Table } from "./Table.tsx";
export { Tabs } from "./Tabs.tsx";
export { Tick } from "./Tick.tsx";
export { Tooltip } from "./Tooltip.tsx";
export { VerdictMark } from "./VerdictMark.tsx";
