import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { deskDeeds } from "./desk/deskDeeds.ts";
import { Page } from "./shell/Page.tsx";

const root = document.getElementById("page");
if (root === null) throw new Error("index.html has lost its #page");
deskDeeds.prepare();
createRoot(root).render(
  <StrictMode>
    <Page />
  </StrictMode>,
);
