import type { Migration } from "./migration.ts";

/**
 * The first store. Nothing that a maker made can be changed or removed: triggers refuse it, whatever the program does.
 * A text is kept once, by its SHA-256, however often undo and redo come back to it. `state` is the number of the revision
 * that first brought the state a revision stands in, `parent` the state which that one was made from: undo goes to the
 * parent, redo to the child that was current last.
 */
export const first: Migration = {
  version: 1,
  sql: `
create table instruments (
  id text primary key,
  made text not null,
  away integer not null default 0 check (away in (0, 1))
) strict;

create table texts (
  sha256 text primary key,
  name text not null,
  bytes integer not null,
  deflated blob not null,
  checked integer not null check (checked in (0, 1))
) strict;

create table revisions (
  instrument text not null references instruments (id),
  number integer not null check (number >= 1),
  at text not null,
  kind text not null check (kind in ('made', 'edit', 'undo', 'redo', 'restore', 'aside')),
  cause text not null,
  page text not null,
  request text not null,
  sent text not null,
  basis integer not null,
  text text not null references texts (sha256),
  state integer,
  parent integer,
  primary key (instrument, number),
  unique (instrument, request),
  check ((kind = 'aside') = (state is null))
) strict;
create index revisions_by_parent on revisions (instrument, parent, number);

create table keepsakes (
  instrument text not null,
  id text not null,
  name text not null,
  revision integer not null,
  at text not null,
  page text not null,
  primary key (instrument, id),
  foreign key (instrument, revision) references revisions (instrument, number)
) strict;

create table attachments (
  instrument text not null references instruments (id),
  id text not null,
  name text not null,
  media_type text not null,
  bytes integer not null,
  sha256 text not null,
  at text not null,
  page text not null,
  primary key (instrument, id)
) strict;

create table preferences (key text primary key, value text not null) strict;

create trigger instruments_stay before delete on instruments begin select raise(abort, 'instruments are never deleted'); end;
create trigger instruments_keep before update of id, made on instruments begin select raise(abort, 'instruments keep their id'); end;
create trigger texts_stay before delete on texts begin select raise(abort, 'texts are never deleted'); end;
create trigger texts_keep before update on texts
  when new.sha256 <> old.sha256 or new.bytes <> old.bytes or new.deflated <> old.deflated or new.checked < old.checked
    or (new.name <> old.name and old.checked = 1)
  begin select raise(abort, 'texts are never changed'); end;
create trigger revisions_stay before delete on revisions begin select raise(abort, 'revisions are never deleted'); end;
create trigger revisions_keep before update on revisions begin select raise(abort, 'revisions are never changed'); end;
create trigger keepsakes_stay before delete on keepsakes begin select raise(abort, 'keepsakes are never deleted'); end;
create trigger keepsakes_keep before update on keepsakes begin select raise(abort, 'keepsakes are never changed'); end;
create trigger attachments_stay before delete on attachments begin select raise(abort, 'attachments are never deleted'); end;
create trigger attachments_keep before update on attachments begin select raise(abort, 'attachments are never changed'); end;
`,
};
