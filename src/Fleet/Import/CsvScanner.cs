using System.Buffers;

namespace Vanehour.Fleet.Import;

/// <summary>
/// Reads CSV records one after the other, however long the file: comma, quotes doubled inside quotes, line breaks allowed inside quotes,
/// CRLF or LF. The fields of a record are gone at the next.
/// </summary>
/// <remarks>[RFC4180] Y. Shafranovich, Common Format and MIME Type for CSV Files, RFC 4180, section 2. Empty lines are passed over.</remarks>
public sealed class CsvScanner
{
    /// <summary>The longest record, characters. A quote that is never closed would else take in the rest of the file.</summary>
    public const int LongestRecord = 1 << 20;

    private static readonly SearchValues<char> PlainEnds = SearchValues.Create(",\"\r\n");

    private readonly TextReader reader;
    private readonly char[] buffer = new char[32 * 1024];
    private readonly List<int> ends = [];
    private char[] record = new char[512];
    private int recordLength;
    private int at;
    private int length;
    private int line = 1;
    private bool isStart = true;

    /// <param name="reader">The text; a byte order mark at its start is passed over.</param>
    public CsvScanner(TextReader reader)
    {
        ArgumentNullException.ThrowIfNull(reader);
        this.reader = reader;
    }

    private enum State
    {
        FieldStart,
        Plain,
        Quoted,
        QuoteInQuoted,
    }

    /// <summary>The line the record starts on, counted from 1.</summary>
    public int Line { get; private set; } = 1;

    /// <summary>How many fields the record has.</summary>
    public int FieldCount => ends.Count;

    /// <summary>A field of the record, unquoted.</summary>
    public ReadOnlySpan<char> Field(int index)
    {
        var start = index == 0 ? 0 : ends[index - 1];
        return record.AsSpan(start, ends[index] - start);
    }

    /// <summary>Goes to the next record; false where there is none.</summary>
    /// <exception cref="FormatException">A quote is out of place or not closed, or the record is too long; the message says on which line.</exception>
    public bool Read()
    {
        ends.Clear();
        recordLength = 0;
        Line = line;
        var state = State.FieldStart;
        while (true)
        {
            if (at == length && !Fill())
            {
                return AtEnd(state);
            }

            var rest = buffer.AsSpan(at, length - at);
            if (state == State.Quoted)
            {
                state = Quoted(rest);
                continue;
            }

            switch (rest[0])
            {
                case '"' when state == State.QuoteInQuoted:
                    Append(rest[..1]);
                    at++;
                    state = State.Quoted;
                    break;
                case '"' when state == State.FieldStart:
                    at++;
                    state = State.Quoted;
                    break;
                case '"':
                    throw new FormatException($"Line {line} has a quote inside a field that does not start with one; double it and quote the field.");
                case ',':
                    at++;
                    ends.Add(recordLength);
                    state = State.FieldStart;
                    break;
                case '\r' when NextIsLineFeed():
                    at++;
                    break;
                case '\n':
                    at++;
                    line++;
                    if (!IsEmpty(state))
                    {
                        ends.Add(recordLength);
                        return true;
                    }

                    Line = line;
                    break;
                default:
                    if (state == State.QuoteInQuoted)
                    {
                        throw new FormatException($"Line {line} has text after a closing quote.");
                    }

                    var more = rest[1..].IndexOfAny(PlainEnds);
                    var text = more < 0 ? rest : rest[..(more + 1)];
                    Append(text);
                    at += text.Length;
                    state = State.Plain;
                    break;
            }
        }
    }

    private bool IsEmpty(State state) => ends.Count == 0 && recordLength == 0 && state == State.FieldStart;

    private bool AtEnd(State state)
    {
        if (state == State.Quoted)
        {
            throw new FormatException($"A quote opened in the record on line {Line} is never closed.");
        }

        if (IsEmpty(state))
        {
            return false;
        }

        ends.Add(recordLength);
        return true;
    }

    private State Quoted(ReadOnlySpan<char> rest)
    {
        var quote = rest.IndexOf('"');
        var text = quote < 0 ? rest : rest[..quote];
        line += text.Count('\n');
        Append(text);
        at += text.Length;
        if (quote < 0)
        {
            return State.Quoted;
        }

        at++;
        return State.QuoteInQuoted;
    }

    private bool NextIsLineFeed() => at + 1 < length ? buffer[at + 1] == '\n' : reader.Peek() == '\n';

    private void Append(ReadOnlySpan<char> text)
    {
        if (recordLength + text.Length > LongestRecord)
        {
            throw new FormatException($"The record on line {Line} is longer than {LongestRecord} characters; a quote may be missing.");
        }

        if (recordLength + text.Length > record.Length)
        {
            Array.Resize(ref record, Math.Max(record.Length * 2, recordLength + text.Length));
        }

        text.CopyTo(record.AsSpan(recordLength));
        recordLength += text.Length;
    }

    private bool Fill()
    {
        at = 0;
        length = reader.Read(buffer, 0, buffer.Length);
        if (isStart && length > 0)
        {
            isStart = false;
            at = buffer[0] == '\uFEFF' ? 1 : 0;
            return at < length || Fill();
        }

        return length > 0;
    }
}
