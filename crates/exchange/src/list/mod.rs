//! Lists as CSV and as workbooks: cutters that come in, and whatever goes out.

mod column;
mod grid;
mod mapping;
mod of_book;
mod problem;
mod read;
mod table;
mod value;
mod workbook;

pub use column::{CutterColumn, Holds};
pub use grid::FILE_BYTES_MAX;
pub use mapping::{MappedColumn, Meaning, Said};
pub(crate) use of_book::corner_radius;
pub use of_book::{
    CutterRow, SizeRow, TrayRow, cutters_table, records_table, sizes_table, trays_table,
};
pub use problem::ListProblem;
pub use read::{CutterList, ListedCutter, read_cutters};
pub(crate) use table::guarded;
pub use table::{Table, TableColumn, Value, table_csv};
pub use workbook::table_workbook;
