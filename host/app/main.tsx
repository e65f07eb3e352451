import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { Page } from "./shell/Page.tsx";

const root = document.getElementById("page");
if (root === null) throw new Error("index.html has lost its #page");
createRoot(root).render(
  <StrictMode>
    <Page />
  </StrictMode>,
);
