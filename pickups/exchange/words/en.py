"""The words of lists in files, in English: headings, what a column means, what is wrong."""

LISTS = {
    "customers": "Customers",
    "yards": "Yards",
    "contacts": "Contacts",
    "specifications": "Specifications",
}
HEADINGS = {
    "id": "Record",
    "number": "Customer number",
    "name": "Customer",
    "customer": "Customer",
    "store": "Store",
    "yard_name": "Yard",
    "yard": "Yard",
    "address": "Address",
    "contact": "Contact",
    "email": "E-mail",
    "language": "Language",
    "oldest_years": "Oldest age (years)",
    "most_caps": "Most retreads",
    "most_nail_holes": "Most nail holes",
    "repairs": "Old repairs accepted",
    "brands": "Brands accepted",
    "sizes": "Sizes accepted",
    "steer": "Tread design, steer",
    "drive": "Tread design, drive",
    "trailer": "Tread design, trailer",
    "fleet_brand": "Fleet brand",
    "rejects": "Rejects",
    "pull_32nds": "Pull depth (32nds)",
}
ALSO: dict[str, tuple[str, ...]] = {
    "id": ("Id", "Record id"),
    "number": ("Number", "Account", "Account number", "Account no", "Customer no", "No"),
    "name": ("Name", "Customer name", "Fleet", "Company"),
    "customer": ("Customer number", "Customer name", "Fleet", "Company", "Account"),
    "store": ("Home store", "Branch", "Location"),
    "yard_name": ("Yard name", "Site", "Place"),
    "yard": ("Yard name",),
    "address": ("Yard address", "Street", "Street address"),
    "contact": ("Name", "Contact name", "Person"),
    "email": ("Email", "Mail", "E-mail address", "Email address"),
    "language": ("Speaks",),
    "oldest_years": ("Oldest age", "Max age", "Maximum age"),
    "most_caps": ("Most caps", "Max caps", "Max retreads"),
    "most_nail_holes": ("Nail holes", "Max nail holes"),
    "repairs": ("Repairs", "Repairs accepted"),
    "brands": ("Brands",),
    "sizes": ("Sizes",),
    "steer": ("Steer", "Steer design"),
    "drive": ("Drive", "Drive design"),
    "trailer": ("Trailer", "Trailer design"),
    "fleet_brand": ("Brand on",),
    "rejects": ("What to do with rejects",),
    "pull_32nds": ("Pull depth", "Pull point"),
}
MEANS = {
    "id": "Our own sign for the record; it stands in an export. Leave it empty for a new one. With "
    "it a name can be changed.",
    "number": "The customer's account in your books. Its own; leave it empty if there is none.",
    "name": "What the customer is called.",
    "customer": "The customer, by number or name.",
    "store": "The store whose trucks go there, by its name.",
    "yard_name": "What the yard is called.",
    "yard": "The yard, by its name. Empty: for all yards of the customer.",
    "address": "Where it is, on one line.",
    "contact": "The person at the customer who is told things.",
    "email": "Where mails to this person go. Empty: no mail is sent.",
    "language": "The language of the mails. Empty: English.",
    "oldest_years": "Whole years since the casing's birth that it may count. Empty: any.",
    "most_caps": "Retreads that it may already have had. Empty: any.",
    "most_nail_holes": "Nail holes that it may have. Empty: any.",
    "repairs": "Old repairs that are accepted. Empty: any.",
    "brands": "Only these brands of casings. Empty: any.",
    "sizes": "Only these sizes. Empty: any.",
    "steer": "The tread design wanted on the steer axle.",
    "drive": "The tread design wanted on drive axles.",
    "trailer": "The tread design wanted on trailers.",
    "fleet_brand": "What is to be branded on.",
    "rejects": "What is done with a casing that the plant rejects. Empty: ask each time.",
    "pull_32nds": "The depth at which this customer pulls, in 32nds of an inch. Empty: not told.",
}
ALLOWED = {
    "text": "text, at most {most} characters",
    "mail": "one e-mail address",
    "whole": "a whole number from {least} to {most}",
    "texts": "texts with | or ; between them, at most {many}",
    "choice": "one of: {choices}",
    "choices": "with | or ; between them: {choices}; none: “{nothing}”",
    "id": "as it stands in an export",
    "store": "one of: {choices}",
    "customer": "a number or name that is known or stands in this file",
    "yard": "a name that is known or stands in this file",
}
CHOICES = {
    "language": {"en": "English", "es": "Spanish"},
    "rejects": {
        "ask": "ask each time",
        "return": "bring back",
        "scrap": "scrap",
        "buy": "offer to the dealer",
    },
}
NOTHING = "none"
EXAMPLE = {
    "number": "1001",
    "name": "Example Haulage",
    "customer": "Example Haulage",
    "store": "Example store",
    "yard_name": "North yard",
    "yard": "North yard",
    "address": "4 Example Lane",
    "contact": "Example Person",
    "email": "person@example.com",
    "language": "English",
    "oldest_years": "7",
    "most_caps": "2",
    "most_nail_holes": "5",
    "repairs": "old nail hole repair",
    "brands": "",
    "sizes": "11R22.5 | 295/75R22.5",
    "steer": "",
    "drive": "Example D4",
    "trailer": "Example T2",
    "fleet_brand": "EXH",
    "rejects": "ask each time",
    "pull_32nds": "6",
}
TEMPLATE = {
    "title": "What each column means",
    "list": "List",
    "column": "Column",
    "means": "Meaning",
    "allowed": "Allowed",
    "required": "Required",
    "yes": "yes",
    "no": "no",
    "example": "example",
    "remark": "A row whose first cell begins with # is not read. A column that is not there stays "
    "as it is; an empty cell empties it.",
}
FAULTS = {
    "required": "This cell may not be empty.",
    "failed_formula": "A formula failed here. Put the value in its place.",
    "unfit_symbol": "It holds a symbol that cannot be kept ({symbol}). Type it again.",
    "no_mail": "This is no e-mail address. Allowed: one address, such as name@fleet.example.",
    "number_sign": "A customer number may not begin with #.",
    "no_id": "No record of this list has this sign. Leave the cell empty for a new one.",
    "no_whole": "Allowed: a whole number from {least} to {most}.",
    "too_long": "It has {length} characters; at most {most} are allowed.",
    "no_choice": "“{part}” is not known. Allowed: {allowed}.",
    "not_none": "Name at least one, or leave the cell empty: then any is accepted.",
    "too_many": "There are {n} here. Allowed: 1 to {most}, with | or ; between them.",
    "twice": "The same record stands in row {row} already. Keep one of the two.",
    "no_store": "No store is called that. Allowed: {allowed}.",
    "no_customer": "No customer has this number or name. Enter the customer first, or put it into "
    "the same workbook.",
    "no_yard": "This customer has no yard of this name. Enter the yard first, or put it into the "
    "same workbook.",
    "several_stores": "{n} stores have this name.",
    "several_customers": "{n} customers have this name. Write the customer number.",
    "several_yards": "{n} yards of this customer have this name. Give one of them another name.",
    "several_records": "{n} records have this name. Export the list and change it there: the "
    "column “Record” tells them apart.",
    "number_taken": "Another customer has this number.",
    "name_taken": "There is another one of this name.",
    "stays_theirs": "A record stays its customer's. Leave the cell as it was.",
    "changed_since": "This was changed by somebody else after you looked. It was left out; look at "
    "the file again.",
}
UNREADABLE = {
    "no_file": "Choose a file first: CSV or XLSX.",
    "too_big": "The file has more than {most} MB. Split it, or save it as CSV.",
    "empty": "The file is empty.",
    "not_text": "This is neither a workbook (.xlsx) nor text (.csv). Open it in a spreadsheet and "
    "save it as one of them.",
    "old_workbook": "This is a workbook of the old form (.xls) or one with a password. Open it in "
    "a spreadsheet and save it as .xlsx.",
    "other_archive": "This is an archive, but no workbook of the form .xlsx. Open it in a "
    "spreadsheet and save it as .xlsx.",
    "locked_workbook": "The workbook has a password. Save it without one.",
    "broken_workbook": "This workbook cannot be read. Open it in a spreadsheet and save it anew as "
    ".xlsx.",
    "too_much_inside": "The workbook unpacks to more than {most} MB. Save the lists as CSV.",
    "broken_row": "Row {row} cannot be read: a quotation mark is not closed.",
    "long_cell": "A cell in row {row} has more than {most} characters. Most likely a quotation "
    "mark before it is not closed.",
    "too_many_rows": "There are more than {most} rows. Split the file.",
    "no_headings": "No headings were found that we know. Start from a template, or write its "
    "headings over your columns.",
    "column_missing": "“{list}” (headings in row {row}) lacks the column {columns}. Add it; a "
    "template shows all of them.",
}
SAID = {
    "windows": "The text was read as Windows-1252. Check that accents are right.",
    "hidden_rows": "Hidden rows were read like the others: {n}.",
    "remarks": "Rows that begin with # were not read: {n}.",
    "unknown": "These columns are not read: {columns}.",
}
CELL = {
    "quoted": "“{text}”",
    "at": "row {row}, {column}",
    "at_sheet": "{sheet}, row {row}, {column}",
    "row": "row {row}",
    "row_sheet": "{sheet}, row {row}",
}
