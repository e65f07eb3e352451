import type { ReactNode } from "react";
import { Tabs as AriaTabs, Tab, TabList, TabPanel } from "react-aria-components/Tabs";

/** Sheets behind one another; only the one in front is built. */
export function Tabs<Id extends string>({
  label,
  selected,
  onSelect,
  tabs,
  className = "",
}: {
  readonly label: string;
  readonly selected: Id;
  readonly onSelect: (id: Id) => void;
  readonly tabs: readonly { readonly id: Id; readonly label: ReactNode; readonly content: ReactNode }[];
  readonly className?: string;
}) {
  return (
    <AriaTabs
      className={`tabs ${className}`}
      selectedKey={selected}
      onSelectionChange={(key) => onSelect(key as Id)}
    >
      <TabList aria-label={label} className="tab-list">
        {tabs.map((tab) => (
          <Tab key={tab.id} id={tab.id} className="tab">
            {tab.label}
          </Tab>
        ))}
      </TabList>
      {tabs.map((tab) => (
        <TabPanel key={tab.id} id={tab.id} className="tab-panel">
          {tab.content}
        </TabPanel>
      ))}
    </AriaTabs>
  );
}
