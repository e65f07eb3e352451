/** What the page is made of: controls, marks, sheets and drawings in the page's own look. */
export { Button, IconButton } from "./Button.tsx";
export { Dialog } from "./Dialog.tsx";
export { Field } from "./Field.tsx";
export { Figure } from "./Figure.tsx";
export { Menu } from "./Menu.tsx";
export { Progress } from "./Progress.tsx";
export { Segments } from "./Segments.tsx";
export { Select } from "./Select.tsx";
export { Sheet, TitleBlock } from "./Sheet.tsx";
export { Sign } from "./Sign.tsx";
export { Slider } from "./Slider.tsx";
export { Table } from "./Table.tsx";
export { Tabs } from "./Tabs.tsx";
export { Tick } from "./Tick.tsx";
export { VerdictMark } from "./VerdictMark.tsx";
