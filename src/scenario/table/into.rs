//! Tables of orders put in where a scenario names them, or where a command line does.

use super::{Asked, From, Given, OrderTable, orders};
use crate::draft::{Draft, Fetch, File as Read};
use crate::finding::{Code, Finding, Findings};
use crate::node::{Node, SourceSpan, Spanned, Value};
use crate::thing::Thing;
use crate::walk::Walk;
use crate::written::File;

impl Draft {
    /// Puts the orders of every table in that the scenario names: `orders: {from: orders.csv}`.
    ///
    /// # Errors
    /// A table that cannot be fetched, and everything that is wrong in it.
    pub(crate) fn take_tables(&mut self, fetch: Fetch<'_>) -> Result<(), Findings> {
        let Some(node) = self.tree.key(File::orders.name) else {
            return Ok(());
        };
        let items = match &node.value {
            Value::List(items) => items.clone(),
            _ => vec![node.clone()],
        };
        if !items.iter().any(is_table) {
            return Ok(());
        }
        let mut all = Vec::new();
        for item in items {
            if !is_table(&item) {
                all.push(item);
                continue;
            }
            let given = self
                .fetched(&item, fetch)
                .map_err(|found| Findings::new(self.sources.clone(), found))?;
            all.extend(given.orders);
            self.unread.extend(given.unread);
            self.add_parts(given.parts);
        }
        self.put_orders(all);
        Ok(())
    }

    /// Adds the orders of a table behind all others. `named` is how it is called in print; `said` are the keys that
    /// `orders: {from: …}` has, `columns.part` for a heading.
    ///
    /// # Errors
    /// Everything that is wrong in it, or with what is said of it.
    pub fn add_table(
        &mut self,
        named: &str,
        text: &str,
        said: &[(String, String)],
    ) -> Result<OrderTable, Findings> {
        let node = self.said(named, said);
        let mut walk = Walk::default();
        let read = <From as Thing>::read(&node, &mut walk);
        let refused = |found, draft: &Self| Findings::new(draft.sources.clone(), found);
        let Some(from) = read.filter(|_| walk.found.is_empty()) else {
            return Err(refused(walk.found, self));
        };
        let given = self
            .table(named, text, &from, node.at)
            .map_err(|found| refused(found, self))?;
        let old = self.tree.key(File::orders.name).map(|n| match &n.value {
            Value::List(items) => items.clone(),
            Value::Empty => Vec::new(),
            _ => vec![n.clone()],
        });
        self.unread.extend(given.unread);
        self.add_parts(given.parts);
        self.put_orders(old.into_iter().flatten().chain(given.orders).collect());
        Ok(given.table)
    }

    /// What is said of a table on a command line, as it would be written.
    fn said(&mut self, named: &str, said: &[(String, String)]) -> Node {
        let mut entries: Vec<(Spanned<String>, Node)> = Vec::new();
        let mut columns: Vec<(Spanned<String>, Node)> = Vec::new();
        let all = std::iter::once(("from".to_owned(), named.to_owned())).chain(said.iter().cloned());
        let mut whole = SourceSpan::default();
        for (key, value) in all {
            let option = if key.starts_with("columns.") {
                "column"
            } else {
                &key
            };
            let from = self.sources.add(&format!("--{option}"), &value);
            let at = SourceSpan::new(from, from + value.len());
            let node = Node::of_text(value, at);
            match key.strip_prefix("columns.") {
                Some(column) => columns.push((Spanned::new(column.to_owned(), at), node)),
                None => entries.push((Spanned::new(key.clone(), at), node)),
            }
            whole = at;
        }
        if !columns.is_empty() {
            let node = Node::new(Value::Map(columns), whole);
            entries.push((Spanned::new("columns".to_owned(), whole), node));
        }
        Node::new(Value::Map(entries), whole)
    }

    fn fetched(&mut self, item: &Node, fetch: Fetch<'_>) -> Result<Given, Vec<Finding>> {
        let mut walk = Walk::default();
        let read = <From as Thing>::read(item, &mut walk);
        let from = read.filter(|_| walk.found.is_empty()).ok_or(walk.found)?;
        let Some(name) = &from.from else {
            return Err(vec![Finding::new(
                Code::Missing,
                item.at,
                "this doesn't say from which file",
            )]);
        };
        let asking = Read {
            name: self.sources.within(item.at).name.to_owned(),
            id: String::new(),
            text: String::new(),
        };
        let file = fetch(&asking, &name.value).map_err(|why| {
            let message = format!("`{}` cannot be read: {why}", name.value);
            vec![Finding::new(Code::Missing, name.at, message)]
        })?;
        self.table(&file.name, &file.text, &from, name.at)
    }

    fn table(&mut self, named: &str, text: &str, from: &From, at: SourceSpan) -> Result<Given, Vec<Finding>> {
        let names = |key: &str| match self.tree.key(key).map(|n| &n.value) {
            Some(Value::Map(entries)) => entries.iter().map(|(k, _)| k.value.clone()).collect(),
            _ => Vec::new(),
        };
        let (parts, routes): (Vec<String>, Vec<String>) = (names(File::parts.name), names(File::routes.name));
        let route = match routes.as_slice() {
            [one] => Some(one.clone()),
            _ => None,
        };
        // One sign ends a line, so that no other stands in what is shown of it.
        let text = &text.replace("\r\n", "\n");
        let start = self.sources.add(named, text);
        let asked = Asked {
            said: Some(from),
            at,
            parts,
            route,
        };
        orders(text, start, &asked)
    }

    fn add_parts(&mut self, parts: Vec<(Spanned<String>, Node)>) {
        if let Value::Map(entries) = &mut self.tree.value
            && let Some((_, node)) = entries.iter_mut().find(|(k, _)| k.value == File::parts.name)
            && let Value::Map(known) = &mut node.value
        {
            known.extend(parts);
        }
    }

    fn put_orders(&mut self, all: Vec<Node>) {
        self.changed = true;
        let Value::Map(entries) = &mut self.tree.value else {
            return;
        };
        match entries.iter_mut().find(|(k, _)| k.value == File::orders.name) {
            Some((_, node)) => node.value = Value::List(all),
            None => {
                let at = all.first().map_or(SourceSpan::default(), |n| n.at);
                let key = Spanned::new(File::orders.name.to_owned(), at);
                entries.push((key, Node::new(Value::List(all), at)));
            }
        }
    }
}

fn is_table(item: &Node) -> bool {
    item.key(From::from.name).is_some()
}
